"""A profile's file, from bytes to plain TOML values; nothing in it is judged here."""

import os
import re
import tomllib
from dataclasses import dataclass

from templategen.catalogue import translated, worded
from templategen.errors import Fault, ProfileError
from templategen.table.profile.slips import slip_in
from templategen.table.profile.suggest import nearest
from templategen.units import printable

LARGEST_BYTES = 1_000_000
LONGEST_LINE = 4000
MOST_VALUES = 20_000
"""Values that a profile may hold: room for some three thousand knots, read in well under a second."""
# A key of very many parts takes the TOML reader very long.
_LONG_KEY = r"(?<![\w\"'-])(?:[\w\"'-]++[ \t]*+\.[ \t]*+){30}"


@dataclass(frozen=True, slots=True)
class Source:
    """A profile as it stands in its file; `text` is `whole` without a mark of the order of bytes, lines as one."""

    text: str
    name: str
    file: str
    sha256: str
    whole: str


def source_from_file(path: str | os.PathLike[str]) -> Source:
    """The profile file at `path`.

    Raises: ProfileError when there is no such file, or it can't be read, is too large or is not UTF-8.
    """
    file = os.fspath(path)
    shown = printable(file)
    try:
        with open(path, "rb") as stream:
            content = stream.read(LARGEST_BYTES + 1)
    except (OSError, ValueError) as problem:
        raise ProfileError(Fault("", *_unreadable(problem, file), file=shown)) from None
    text = _decoded(content, shown)
    return Source(text, _stem(file), shown, digest(content), content.decode())


def source_from_text(text: str, name: str, file: str = "") -> Source:
    """A profile given as text."""
    content = text.encode("utf-8", "replace")
    _refuse_size(len(content), file or name)
    return Source(text.removeprefix("\ufeff"), name, file or name, digest(content), content.decode())


def toml_values(source: Source) -> dict[str, object]:
    """The values of a TOML text.

    Raises: ProfileError with the line of what is not TOML.
    """
    _refuse_long_lines(source)
    try:
        values = tomllib.loads(source.text)
    except RecursionError:
        raise ProfileError(
            Fault("", translated("lists are nested too deep"), translated("use plain lists"), source.file)
        ) from None
    except ValueError as problem:
        raise ProfileError(_not_toml(source, str(problem))) from None
    _refuse_number(values, source)
    return values


def _refuse_number(values: dict[str, object], source: Source) -> None:
    """Refuses files of very many values; each is judged on its own, which takes its time."""
    waiting: list[object] = [values]
    number = 0
    while waiting:
        value = waiting.pop()
        inner = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
        waiting += inner
        number += 1
    if number > MOST_VALUES:
        found = worded("holds {number} values, more than {most}", number=number, most=MOST_VALUES)
        raise ProfileError(
            Fault("", found, translated("leave out what isn't needed; a profile is a page of text"), source.file)
        )


def _refuse_long_lines(source: Source) -> None:
    for number, line in enumerate(source.text.split("\n"), 1):
        if len(line) > LONGEST_LINE:
            found = worded("this line is longer than {most} characters", most=LONGEST_LINE)
            raise ProfileError(Fault("", found, translated("break it into several"), source.file, number))
    deep = re.search(_LONG_KEY, source.text)
    if deep:
        line_number = source.text.count("\n", 0, deep.start()) + 1
        raise ProfileError(
            Fault(
                "", translated("this key has too many parts"), translated("use section.key"), source.file, line_number
            )
        )


def _not_toml(source: Source, problem: str) -> Fault:
    place = re.search(r"\(at line (\d+), column (\d+)\)$", problem)
    line = int(place[1]) if place else source.text.count("\n") + 1 if "end of document" in problem else 0
    reason = re.sub(r"\s*\(at .*\)$", "", problem)
    slip = slip_in(source.text, line, reason)
    if slip:
        return Fault("", printable(slip[0])[:160], printable(slip[1])[:200], source.file, line)
    reason = printable(reason)[:120]
    found = worded("this is not TOML: {reason}", reason=f"{reason[:1].lower()}{reason[1:]}")
    return Fault(
        "", found, translated('write key = 12 or key = "text", and [section] on a line of its own'), source.file, line
    )


def _decoded(content: bytes, file: str) -> str:
    _refuse_size(len(content), file)
    try:
        return content.decode("utf-8").removeprefix("\ufeff")
    except UnicodeDecodeError as problem:
        line = content.count(b"\n", 0, problem.start) + 1
        raise ProfileError(
            Fault("", translated("this is not UTF-8 text"), translated("save the file as UTF-8"), file, line)
        ) from None


def _refuse_size(size: int, file: str) -> None:
    if size > LARGEST_BYTES:
        raise ProfileError(
            Fault("", translated("the file is larger than 1 MB"), translated("a profile is a page of text"), file)
        )


def _unreadable(problem: Exception, file: str) -> tuple[str, str]:
    if isinstance(problem, FileNotFoundError):
        return translated("there is no such file"), _like(file) or translated("check the name and the folder")
    if isinstance(problem, IsADirectoryError):
        return translated("this is a folder"), translated("name the profile file in it")
    if isinstance(problem, PermissionError):
        return translated("this file may not be read"), translated("check its permissions")
    reason = (
        problem.strerror
        if isinstance(problem, OSError) and problem.strerror
        else translated("the name is not one a file can have")
    )
    return worded("the file can't be read: {reason}", reason=reason), translated("check the name and the folder")


def _like(file: str) -> str:
    """The profile in the same folder that may have been meant."""
    folder, name = os.path.split(file)
    try:
        beside = sorted(one for one in os.listdir(folder or ".") if one.endswith(".toml") and one == printable(one))
    except (OSError, ValueError):
        return ""
    return next(
        (worded("did you mean {names}?", names=os.path.join(folder, one)) for one in nearest(name, beside)), ""
    )


def _stem(file: str) -> str:
    return os.path.splitext(os.path.basename(file))[0]


def digest(content: bytes) -> str:
    """SHA-256 of some bytes."""
    # Loading it takes longer than reading a profile; only a command that reads one should wait for it.
    import hashlib

    return hashlib.sha256(content).hexdigest()
