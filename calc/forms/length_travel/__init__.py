"""Length and travel."""
