"""Spring swap."""
