"""Collar turns and ride height."""
