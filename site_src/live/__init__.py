"""What answers the page, in the browser only."""
