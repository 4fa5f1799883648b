"""Spring preload."""
