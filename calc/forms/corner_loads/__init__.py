"""Corner loads."""
