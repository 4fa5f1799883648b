"""A form put to a car: what is read and replied, as text too; what to measure better."""
