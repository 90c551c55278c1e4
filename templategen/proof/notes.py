"""What the notes of a routing machine's files tell, read as they are told in the language that is spoken."""

from typing import NamedTuple

from templategen.catalogue import read_as, translated, worded

CUT = "Cut {number}: {what}, {deep} deep{places}, {bit} bit, {passes} [{layer}]"
PASSES = "{many} passes of {each}"
ONE_PASS = "1 pass"
LEFT_OUT = (
    "Left out: {what}, {deep} deep, since {why}: another bit, or {there} [{layer}]",
    "Left out: {what}, of {parts}: {why}; by their set-ups [{layer}]",
)
SKIN = "Outline and holes end {skin} above the bed. This skin is cut with a knife, then trimmed flush."
SUCTION = (
    "Suction holds parts of {least} and more; check its gauge before the last pass, and keep the bed round them"
    " sealed."
)

UNIT = {"MM": 1.0, "IN": 25.4, "mm": 1.0, "in": 25.4, "cm\N{SUPERSCRIPT TWO}": 100.0, "sq in": 645.16}
"""Millimetres, or square millimetres, to a unit."""


class Cut(NamedTuple):
    """What is told of the cuts on a layer: the bit's diameter, how deep, in how many passes of how much; mm."""

    bit: float
    depth: float
    passes: int
    each: float


def size_of(words: str) -> float:
    """A size with its unit, decimals behind a point or a comma.

    Raises: ValueError for anything else.
    """
    figure, _, unit = words.partition(" ")
    if unit not in UNIT:
        raise ValueError(worded("{words} is no size", words=words[:40]))
    return float(figure.replace(",", ".")) * UNIT[unit]


def cut_of(text: str) -> tuple[str, Cut] | None:
    """The layer that a note is of and what it tells, None where it tells something else."""
    told = read_as(translated(CUT), text)
    passes = told and read_as(translated(PASSES), told["passes"])
    if not told or not (passes or told["passes"] == translated(ONE_PASS)):
        return None
    try:
        depth = size_of(told["deep"])
        many = (int(passes["many"]), size_of(passes["each"])) if passes else (1, depth)
        return told["layer"], Cut(size_of(told["bit"]), depth, *many)
    except ValueError:
        return None


def left_out_of(text: str) -> tuple[str, frozenset[str]] | None:
    """The layer of work that a note leaves out, and the parts that it names; None where it tells something else."""
    found = next((told for one in LEFT_OUT if (told := read_as(translated(one), text))), None)
    return (found["layer"], frozenset(found.get("parts", "").split(", "))) if found else None
