"""Fill and bleed."""
