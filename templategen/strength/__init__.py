"""Strength: the table as a frame of bars, its forces, and what its wood bears. Screening figures, no design."""
