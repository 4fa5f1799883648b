"""Oil blend."""
