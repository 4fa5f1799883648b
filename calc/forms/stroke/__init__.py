"""Stroke."""
