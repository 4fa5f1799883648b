"""Pairing."""
