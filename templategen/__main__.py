"""`python -m templategen` is the same as `templategen`."""

from __future__ import annotations

from templategen.cli import main

if __name__ == "__main__":
    main(prog_name="templategen")
