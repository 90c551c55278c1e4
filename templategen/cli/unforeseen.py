"""A mistake of ours: one sentence for the maker, and a report to send to whoever looks after the program."""

import sys
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from tempfile import gettempdir
from traceback import format_exception

from templategen import __version__
from templategen.catalogue import worded
from templategen.errors import Fault, OutputError, arose_at

READ_IT = "read {report} through and send it to whoever looks after the program"

LARGEST_PROFILE = 1_000_000
"""Longer profiles are cut short in a report, in letters."""


def described_trouble(trouble: Exception) -> Fault:
    """What went wrong in one sentence, with the report written where the maker is, or where that can't be, in the
    system's folder for temporary files."""
    kind = type(trouble).__name__
    found = worded("this is a mistake in templategen, not in your profile ({kind}); nothing was written", kind=kind)
    text = "\n".join(_report(trouble))
    name = f"templategen-report-{sha256(text.encode()).hexdigest()[:8]}.txt"
    for folder in (Path.cwd(), Path(gettempdir())):
        if _written(folder / name, text):
            return Fault("", found, worded(READ_IT, report=folder / name))
    place = f"{kind}: {trouble}{arose_at(trouble)}"
    return Fault("", found, worded("send these words to whoever looks after the program: {place}", place=place))


def _written(path: Path, text: str) -> bool:
    from templategen.output.folder import write_file

    try:
        write_file(path, text.encode("utf-8", "backslashreplace"), replace=True)
    except (OutputError, OSError):
        return False
    return True


def _report(trouble: Exception) -> Iterator[str]:
    """Version, machine, what was asked for, where it arose, and the profiles that it arose from."""
    from platform import platform

    yield f"templategen {__version__}, Python {sys.version.split()[0]}, {platform()}"
    yield f"asked for: {' '.join(map(repr, sys.argv[1:]))}"
    yield ""
    yield from (line.rstrip("\n") for line in format_exception(trouble))
    for name in sys.argv[1:]:
        if name.endswith(".toml") and Path(name).is_file():
            yield f"\n--- {name}"
            with Path(name).open(encoding="utf-8", errors="backslashreplace") as profile:
                yield profile.read(LARGEST_PROFILE)
