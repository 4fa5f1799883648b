"""Oil for the evening."""
