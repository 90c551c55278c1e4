"""Templates, cut lists and proofs of fit for round slatted outdoor tables in solid wood."""

from __future__ import annotations

__version__ = "0.1.0"
