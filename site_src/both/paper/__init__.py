"""Where the blocks of a sheet stand on paper: measured and placed here, so that the page can say
before printing what does not fit, and shows on screen what the printer will do."""
