"""One change, the whole car."""
