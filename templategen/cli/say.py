"""What is said on standard output and standard error: as much as there is someone to read, and nothing but words."""

import os
import sys
from contextlib import suppress
from re import Match, compile

import click

from templategen.english import spelt

INK = r"\x1b\[(?:0|1|3[1-7])m"
"""The colours that we give ourselves (ECMA-48)."""

UNPRINTED = compile(rf"({INK})|[\x00-\x08\x0b-\x1f\x7f-\x9f\u202a-\u202e\u2066-\u2069]")
"""What moves the cursor or turns the writing round, and must not come from a name."""

MARKS = compile(rf"[\x0a]|{UNPRINTED.pattern}")

PROBLEM: list[OSError] = []
"""Why standard output couldn't be written, if it couldn't: nothing more is said there."""


def plain(text: str) -> str:
    """The text with whatever a terminal would obey written out: an escape code as `\\x1b`."""
    return MARKS.sub(lambda found: _written_out(found.group()), text)


def say(text: str) -> None:
    """A line or several on standard output; where nobody takes them, that is noted and the work goes on."""
    if PROBLEM:
        return
    try:
        click.echo(UNPRINTED.sub(_but_for_colours, spelt(text)), color=None if in_colour() else False)
    except OSError as problem:
        _unheard(problem)


def warn(text: str) -> None:
    """A line on standard error, if there is one."""
    with suppress(OSError):
        click.echo(UNPRINTED.sub(_but_for_colours, spelt(text)), err=True, color=None if in_colour() else False)


def in_colour() -> bool:
    """Whether colour is welcome, as far as the environment tells (https://no-color.org, terminfo's dumb terminal)."""
    return not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb"


def has_terminal() -> bool:
    """Whether standard error is a terminal that can write a line over."""
    return sys.stderr is not None and sys.stderr.isatty() and os.environ.get("TERM") != "dumb"


def open_streams() -> None:
    """Standard streams that are closed lead nowhere, so that no file of ours takes their place; letters that a
    stream has no code for are written out."""
    PROBLEM.clear()
    for number in range(3):
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(errors="backslashreplace")


def settle() -> OSError | None:
    """Brings standard output to its end; why that couldn't be written, unless only its reader has gone."""
    if not PROBLEM and sys.stdout is not None:
        try:
            sys.stdout.flush()
        except OSError as problem:
            _unheard(problem)
        except ValueError:
            return None
    return next((problem for problem in PROBLEM if not isinstance(problem, BrokenPipeError)), None)


def _unheard(problem: OSError) -> None:
    """Notes the problem, and lets what is left in the buffer go nowhere."""
    PROBLEM.append(problem)
    with suppress(OSError, ValueError, AttributeError):
        nowhere = os.open(os.devnull, os.O_WRONLY)
        os.dup2(nowhere, sys.stdout.fileno())
        os.close(nowhere)


def _but_for_colours(found: Match[str]) -> str:
    return found.group(1) or _written_out(found.group())


def _written_out(mark: str) -> str:
    return mark.encode("unicode_escape").decode()
