"""The build list: four dampers from parts to the car."""
