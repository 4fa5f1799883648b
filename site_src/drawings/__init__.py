"""Drawings of how to measure each thing; `site_src.drawing` names them all."""
