"""Charts on paper that answer any question of their kind with a straight edge."""
