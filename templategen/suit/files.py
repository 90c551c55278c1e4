"""The files of proposals: a profile and a plan for each, the list, and the frontier as a picture."""

import os
from collections.abc import Mapping, Sequence

from templategen.drawing.toned_plan import toned_plan
from templategen.errors import ProfileError
from templategen.output.svg import svg_text
from templategen.output.table_csv import csv_bytes
from templategen.shop.listing import Cell
from templategen.suit.page import page_of
from templategen.suit.picture import frontier_picture
from templategen.suit.proposal import Proposal
from templategen.suit.variant import Value
from templategen.table.profile.change import changed, profile_text
from templategen.table.profile.kept import edited
from templategen.table.profile.model import Profile
from templategen.table.profile.read_workshop import NONE
from templategen.table.profile.workshop import FILE, own_part

HEADER = ["number", "cost", "boards", "to_buy", "rack_m2", "hours", "mass_kg", "set_ups", "distance", "changes"]


def files_of(profile: Profile, asked: Proposal, found: Sequence[Proposal], folder: str = "") -> dict[str, bytes]:
    """For `folder`, by path: `1-NAME.toml`, `1-NAME.svg` and so on for each proposal, `proposals.csv`,
    `frontier.svg`, and `index.html` with all of it."""
    names = [f"{number}-{profile.name}.toml" for number in range(1, len(found) + 1)]
    files: dict[str, bytes] = {"0-asked.svg": svg_text(toned_plan(asked.table)).encode()}
    for number, one in enumerate(found, 1):
        files[names[number - 1]] = text_with(profile, dict(one.changes), folder).encode()
        files[f"{number}-{profile.name}.svg"] = svg_text(toned_plan(one.table)).encode()
    rows = [_row(number, one) for number, one in enumerate([asked, *found])]
    picture = frontier_picture(profile, asked, found)
    page = page_of(profile, asked, found, names)
    return {
        **files,
        "index.html": page,
        "proposals.csv": csv_bytes(HEADER, rows),
        "frontier.svg": svg_text(picture).encode(),
    }


def _row(number: int, one: Proposal) -> list[Cell]:
    told = "; ".join(f"{path} = {value}" for path, value in one.changes)
    stock: list[Cell] = [one.cost, one.boards, one.bought, round(one.rack / 1e6, 3)]
    return [
        number,
        *(["", "", "", ""] if one.short else stock),
        round(one.hours, 1),
        one.mass,
        one.set_ups,
        one.distance,
        told,
    ]


def text_with(profile: Profile, changes: Mapping[str, Value], folder: str = "") -> str:
    """The maker's own text where that can carry the changes, read back to be sure; else the profile written anew.
    A workshop file that it names is named so that it is found from `folder`.

    Raises:
        ProfileError: values that don't go together.
    """
    wanted = changed(profile, changes)
    try:
        text = edited(profile.text, changes)
    except ProfileError:
        text = profile_text(wanted)
    return edited(text, _found_from(profile, folder))


def _found_from(profile: Profile, folder: str) -> Mapping[str, Value]:
    """The key that names the workshop file, where it has to be named otherwise."""
    _, named = own_part(profile.written)
    if not folder or not isinstance(named, str) or named == NONE or os.path.isabs(named):
        return {}
    there = os.path.relpath(os.path.join(os.path.dirname(profile.file), named), folder)
    return {"shop" if isinstance(profile.written["shop"], str) else f"shop.{FILE}": there}
