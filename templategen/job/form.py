"""The form of a job, to be filled in at the bench: beside each line stands what was planned."""

import json
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from templategen.catalogue import translated, worded
from templategen.job.planned import Planned, as_told
from templategen.packet.page.sizes import size
from templategen.units import printable, trimmed

HEAD = """\
# What was done of {name}. Fill in what you know between the quotes, leave the rest empty; then
#   templategen job {name} THIS-FILE --into my-shop.toml
# puts it into your workshop file: your pace, your errors, the wood's moisture, boards used, offcuts kept.
# Or leave that as it is, and give this to the next table alone: templategen make PROFILE -o NEW --job THIS-FILE
format = 1
folder = {folder}         # of the packet, from where this file lies
packet = "{seal}"
made = 1                  # 2 for the second job from this packet, and so on: each is put in once
moisture = ""             # of the wood as it was cut, in %
keep = ""                 # offcuts from this length on go on the rack, such as "400 mm"
"""

ON_THE_RACK = "true goes on the rack, false doesn't, the rest as keep says; measure them first"

WIDEST = 44


def form_text(plan: Planned) -> str:
    """The form as TOML."""
    folder = json.dumps(plan.name, ensure_ascii=False)
    head = worded(HEAD, name=printable(plan.name), seal=plan.seal, folder=folder)
    return "\n".join([head, *_sections(plan)]) + "\n"


def _sections(plan: Planned) -> Iterator[str]:
    hours, tables = sum(plan.minutes.values()) / 60, plan.tables
    whole = worded("{hours:.0f} hours in all", hours=hours) + (worded(", {n} tables", n=tables) if tables > 1 else "")
    rows = (
        (name, '""', worded("planned {minutes:.0f}", minutes=plan.minutes[does]))
        for name, does in as_told(plan.minutes).items()
    )
    yield _section(
        "minutes", worded('really spent, such as 95 or "1 h 35 min"; planned are {whole}', whole=whole), rows
    )
    laid = translated("as laid out")
    yield _section("boards", translated("used"), ((name, str(count), laid) for name, count in plan.boards.items()))
    kept = ((name, '""', _sizes(entry)) for name, entry in plan.offcuts.items())
    yield _section("offcuts", translated(ON_THE_RACK), kept)
    units = plan.profile.units
    drawn = ((code, '""', worded("drawn {size}", size=size(length, units))) for code, length in plan.lengths.items())
    about = worded("overall, as measured on one finished part of a kind, in {units}", units=units)
    yield _section("lengths", about, drawn)


def _section(name: str, about: str, rows: Iterable[tuple[str, str, str]]) -> str:
    lines = (
        f"{f'{json.dumps(key, ensure_ascii=False)} = {value}':<{WIDEST}} # {words}" for key, value, words in rows
    )
    return "\n".join([f"# {about}", f"[{name}]", *lines, ""])


def _sizes(entry: Mapping[str, Any]) -> str:
    sizes = (entry.get(key, 0) for key in ("length", "width", "thickness"))
    return " x ".join(size if isinstance(size, str) else trimmed(size, 1) for size in sizes)
