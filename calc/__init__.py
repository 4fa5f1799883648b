"""Damper and spring calculations for radio-control cars: pure Python, standard library only."""
