"""How a thing is asked: typed texts, entries, records of entries."""
