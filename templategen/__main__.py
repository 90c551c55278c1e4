"""`python -m templategen` is the same as `templategen`."""

from templategen.cli import main

if __name__ == "__main__":
    main(prog_name="templategen")
