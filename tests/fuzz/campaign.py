"""A longer campaign of one target, guided by coverage: `python -m tests.fuzz.campaign TARGET --seconds 60`.

Needs atheris. Inputs that raise are printed and kept in the folder given by `--keep`; put the small ones into
`tests/fuzz/corpus/TARGET/` once they are mended.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
from pathlib import Path

CORPUS = Path(__file__).parent / "corpus"


def run(name: str, seconds: int, keep: Path) -> None:
    """Runs one target; ends the process."""
    import atheris

    with atheris.instrument_imports(include=["templategen"]):
        from tests.fuzz.targets import TARGETS
    work = tempfile.mkdtemp()
    options = [f"-max_total_time={seconds}", "-max_len=4096", f"-artifact_prefix={keep}/", "-print_final_stats=1"]
    atheris.Setup([sys.argv[0], work, str(CORPUS / name), *options], TARGETS[name])
    atheris.Fuzz()


if __name__ == "__main__":
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("target")
    parser.add_argument("--seconds", type=int, default=60)
    parser.add_argument("--keep", type=Path, default=Path(tempfile.gettempdir()))
    told = parser.parse_args()
    run(told.target, told.seconds, told.keep)
