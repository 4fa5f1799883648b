"""What is kept and how it travels: log, set-ups, backup, link."""
