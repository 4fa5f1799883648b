"""What several forms ask, find, warn of."""
