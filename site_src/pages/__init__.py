"""What makes the pages, at build time only."""
