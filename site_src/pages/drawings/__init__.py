"""Drawings of how to measure each thing; `site_src.pages.drawing` lists them all."""
