"""Oil and temperature."""
