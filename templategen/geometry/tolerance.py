"""The tolerances of the geometry kernel, in one place. Lengths in millimetres."""

COINCIDENT = 1e-9
"""Points nearer than this are one point: well under what a double loses at table size (1e-13 m),
well over what a chain of intersections does."""

FLAT_SAGITTA = 1e-9
"""An arc that leaves its chord by less than this is a line."""

SHORTEST_EDGE = 1e-7
"""Edges shorter than this are removed when outlines are cleaned."""

ON_EDGE = 1e-6
"""A point nearer than this to an edge lies on it."""

MET = 1e-6
"""A figure this near to a limit meets it, since sums of sizes miss by a few crumbs."""

ONE_LINE = 1e-5
"""Edges nearer than this along their whole overlap are one line, on paper and under a cutter."""

EQUAL = 1e-6
"""Parts whose sizes (mm) all agree to this are one part, angles (degrees) one angle; no shop measures either."""
