"""Spring seats."""
