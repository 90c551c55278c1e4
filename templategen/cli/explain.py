"""`templategen explain`: how a figure came about."""

import json
from collections.abc import Iterable, Iterator

import click

from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import say
from templategen.cli.shop import with_shop, workshop_lines


@click.command(short_help="Show how any figure came about.")
@click.argument("profile", type=click.Path())
@click.argument("quantity", required=False, default="")
@click.option("--all", "whole", is_flag=True, help="List the lines that slats lie between, too.")
@click.option("--json", "as_json", is_flag=True, help="Print for machines; lengths in mm.")
@with_shop
@refusals_in_words
def explain(profile: str, quantity: str, whole: bool, as_json: bool, shop: str | None) -> None:
    """Shows how QUANTITY of PROFILE's table came about, step by step down to what you wrote.

    Each step has its formula, the values put in, and where they come from: a line of the profile, a default,
    or a source. Without QUANTITY all are listed; the beginning of a name (part.LEG) lists what it holds.

    \b
    Exit code 0: told. 2: no such quantity, or the table can't be built.
    """
    from templategen.explain.story import story_of, under
    from templategen.explain.words import quantity_json, story_json, story_lines
    from templategen.packet.build import built
    from templategen.shop.explained import explained, needs_gluing

    table = built(profile, shop)
    pages, units = explained(table, gluing=not quantity or needs_gluing(quantity)), table.profile.units
    held = under(pages, quantity) if quantity not in pages else ()
    if quantity and not held:
        story = story_of(pages, quantity)
        told = story_json(story, pages, units)
        lines: Iterable[str] = story_lines(story, pages, units)
    else:
        chosen = held or [q for q in pages.values() if whole or not _serves(q.name)]
        told = {"exit": 0, "quantities": [quantity_json(q, units) for q in chosen]}
        lines = _listed([(q.name, q.value, q.unit, q.says) for q in chosen], units)
    if as_json:
        told["workshop"] = table.profile.workshop.file if table.profile.workshop else None
        say(json.dumps(told, ensure_ascii=False, indent=1))
        return
    for line in (*lines, *workshop_lines(table.profile)):
        say(line)


def _serves(name: str) -> bool:
    from templategen.explain.quantities import INNER

    return name.startswith(INNER)


def _listed(rows: list[tuple[str, float, str, str]], units: str) -> Iterator[str]:
    """Name, value and words in columns."""
    from templategen.explain.words import format_value

    lines = [(name, format_value(value, unit, units), says) for name, value, unit, says in rows]
    names, values = (max(len(line[i]) for line in lines) for i in (0, 1))
    for name, value, says in lines:
        yield f"{name:<{names}}  {value:<{values}}  {says}"
