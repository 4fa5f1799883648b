"""Spring rate."""
