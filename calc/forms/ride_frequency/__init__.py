"""Ride frequency and damping ratio."""
