"""Oil for today."""
