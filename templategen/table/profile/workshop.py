"""The workshop's own file: tools, stock, printers and rates, which belong to the shop and not to one table."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from templategen.table.profile.choices import Units

SECTIONS = ("shop", "router", "work", "jigs", "rates", "limits", "paper", "dxf", "maker", "words")
"""The sections that a workshop file may have; key by key what a table sets itself wins."""

WHOLE = "stock"
"""A table that lists stock of its own has that alone: half a rack would be nobody's."""

NAMED = ("values", "woods")
"""Tables of the maker's own names; a name that the table gives wins."""

JOBS = "jobs"
"""The jobs that are in it already, written there with all that they changed, so that none is put in twice."""

TAUGHT = "taught"
"""What jobs taught, by section and key: the figure before and after, the job's file, and why."""

FILE = "file"
"""The key of a profile's `[shop]` that names the file, where `shop = "FILE"` has no room."""


@dataclass(frozen=True, slots=True)
class Workshop:
    """A workshop file as read: its plain values and bare numbers' `units`; `lines` say where each key stands."""

    file: str
    text: str
    sha256: str
    units: Units
    written: Mapping[str, Any]
    lines: Mapping[str, int] = field(default_factory=dict, compare=False)


def taught(workshop: Workshop, path: str) -> str:
    """What taught the figure that stands at `path` of the workshop file, in words; "" for nothing, or where the maker
    has since written another."""
    section, _, name = path.partition(".")
    lesson = workshop.written.get(TAUGHT, {}).get(section, {}).get(name)
    if lesson is None:
        return ""
    before, after, job, why = lesson
    held = workshop.written.get(section, {}).get(name)
    return f"{before} before {job}: {why}" if held in (after, f"{after:g} mm") else ""


def own_part(written: Mapping[str, Any]) -> tuple[dict[str, Any], object]:
    """What a profile says itself, without the name of its workshop file; and that name, None where it has none."""
    said = written.get("shop")
    if isinstance(said, dict):
        return {**written, "shop": {name: value for name, value in said.items() if name != FILE}}, said.get(FILE)
    if isinstance(said, str):
        return {name: value for name, value in written.items() if name != "shop"}, said
    return dict(written), None


def merged_with(written: Mapping[str, Any], workshop: Workshop | None) -> dict[str, Any]:
    """What a profile and its workshop file say as one; what the profile sets itself wins."""
    own, _ = own_part(written)
    for name, said in workshop.written.items() if workshop else ():
        mine = own.get(name)
        if isinstance(said, dict) and isinstance(mine, dict):
            own[name] = {**said, **mine}
        elif name in (*SECTIONS, *NAMED, WHOLE) and mine is None:
            own[name] = said
    return own


def is_the_workshop_s(path: str, written: Mapping[str, Any], workshop: Workshop | None) -> bool:
    """Whether what stands at `path` (`shop.saw_kerf`, `stock[2].width`) was said by the workshop's file."""
    if workshop is None:
        return False
    own, _ = own_part(written)
    head = re.split(r"[.\[]", path, maxsplit=1)[0]
    said, mine, rest = workshop.written.get(head), own.get(head), path[len(head) + 1 :]
    if isinstance(said, dict) and isinstance(mine, dict):
        names = [name for name in said if rest == name or rest.startswith((f"{name}.", f"{name}["))]
        return bool(names) and not any(name in mine for name in names)
    return head in (*SECTIONS, *NAMED, WHOLE) and said is not None and mine is None
