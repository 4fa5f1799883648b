"""Motion ratio."""
