"""Rendering, at build time and in the browser alike."""
