"""Exact plane geometry of lines and true arcs. Millimetres and radians, y up."""
