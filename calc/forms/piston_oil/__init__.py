"""Piston and oil."""
