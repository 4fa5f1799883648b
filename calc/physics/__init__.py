"""Physics as plain functions of floats in SI units; each formula with its source."""
