"""How a command refuses: a readable line for each fault, exit 2, nothing written; what nobody foresaw, exit 3."""

import json
import re
from collections.abc import Callable, Iterable
from functools import wraps
from typing import ParamSpec

import click

from templategen.catalogue import fault_of, translated, worded
from templategen.cli.help import system_language
from templategen.cli.say import open_streams, plain, say, settle, warn
from templategen.english import language, speak
from templategen.errors import Fault, TemplategenError

CANNOT = 2
"""Exit code for a profile or design that can't be built."""

UNFORESEEN = 3
"""Exit code for what is a mistake of ours, or what can't be told because standard output can't be written."""

STOPPED = 130
"""Exit code of a run that was interrupted, as shells have it: 128 and the signal's number."""

UNTOLD = "standard output can't be written ({reason}); what was found isn't told whole"

DECIMAL = re.compile(r"\d,\d")
"""A size as no file takes it."""

P = ParamSpec("P")


def refusals_in_words(command: Callable[P, None]) -> Callable[P, None]:
    """A command whose refusals are told line by line; with `as_json` also as JSON on standard output."""

    @wraps(command)
    def guarded(*args: P.args, **kwargs: P.kwargs) -> None:
        open_streams()
        speak("british", language=system_language())
        code = _run(lambda: command(*args, **kwargs), bool(kwargs.get("as_json")))
        problem = settle()
        raise SystemExit(code if problem is None else refuse_output(problem))

    return guarded


def refuse_output(problem: OSError) -> int:
    """Tells that standard output can't be written; the exit code that goes with it."""
    warn(f"{_error()}: {worded(UNTOLD, reason=_reason(problem))}")
    return UNFORESEEN


def refuse(faults: Iterable[Fault], as_json: bool, code: int = CANNOT) -> int:
    """Tells the faults; the exit code that goes with them."""
    faults = list(faults)
    for fault in faults:
        warn(f"{_error()}: {plain(str(fault))}")
    if language() != "english" and any(DECIMAL.search(fault.remedy) for fault in faults if fault.kind):
        warn(translated("decimals take a point in the file: 12.5"))
    if as_json:
        told = [
            {"file": f.file, "line": f.line, "where": f.where, "kind": f.kind, "found": f.found, "remedy": f.remedy}
            for f in faults
        ]
        say(json.dumps({"exit": code, "errors": told}, ensure_ascii=False, indent=1))
    return code


def _run(command: Callable[[], None], as_json: bool) -> int:
    """Runs a command; its exit code."""
    try:
        command()
    except SystemExit as end:
        return end.code if isinstance(end.code, int) else 0
    except TemplategenError as refusal:
        if refusal.language:
            speak("british", language=refusal.language)
        return refuse(refusal.faults, as_json)
    except OSError as trouble:
        name = trouble.filename or translated("the disk")
        return refuse([Fault("", f"{name}: {_reason(trouble)}", translated("nothing was written"))], as_json)
    except MemoryError:
        return refuse([fault_of("", "the profile asks for more than this machine holds", "simplify it")], as_json)
    except KeyboardInterrupt:
        warn(translated("stopped"))
        return STOPPED
    except click.ClickException:
        raise
    except Exception as trouble:
        from templategen.cli.unforeseen import described_trouble

        return refuse([described_trouble(trouble)], as_json, UNFORESEEN)
    return 0


def _error() -> str:
    return click.style(translated("error"), fg="red")


def _reason(trouble: OSError) -> str:
    return (trouble.strerror or str(trouble)).lower()
