"""How a command refuses: a readable line for each fault, exit 2, nothing written."""

from __future__ import annotations

import json
import sys
from collections.abc import Callable, Iterable
from functools import wraps
from typing import ParamSpec

import click

from templategen.errors import Fault, TemplategenError

CANNOT = 2
"""Exit code for a profile or design that can't be built."""

P = ParamSpec("P")


def told_plainly(command: Callable[P, None]) -> Callable[P, None]:
    """A command whose refusals are told line by line; with `as_json` also as JSON on standard output."""

    @wraps(command)
    def guarded(*args: P.args, **kwargs: P.kwargs) -> None:
        try:
            command(*args, **kwargs)
        except TemplategenError as refusal:
            refuse(refusal.faults, bool(kwargs.get("as_json")))
        except BrokenPipeError:
            sys.stderr.close()
            raise SystemExit(CANNOT) from None
        except OSError as trouble:
            name = trouble.filename or "the disk"
            refuse([Fault("", f"{name}: {trouble.strerror or trouble}", "nothing was written")], False)
        except (MemoryError, RecursionError):
            refuse([Fault("", "the profile asks for more than this machine holds", "simplify it")], False)

    return guarded


def refuse(faults: Iterable[Fault], as_json: bool) -> None:
    """Tells the faults and ends the command."""
    faults = list(faults)
    for fault in faults:
        click.echo(click.style("error", fg="red") + f": {fault}", err=True)
    if as_json:
        told = [
            {"file": f.file, "line": f.line, "where": f.where, "found": f.found, "remedy": f.remedy} for f in faults
        ]
        click.echo(json.dumps({"exit": CANNOT, "errors": told}, ensure_ascii=False, indent=1))
    raise SystemExit(CANNOT)
