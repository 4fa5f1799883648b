"""Layout of the blocks of a sheet on paper: measured and placed here, so that the page can list
before printing the blocks that do not fit, and shows on screen the result on paper."""
