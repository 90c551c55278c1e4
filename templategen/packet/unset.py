"""Words of the maker's that paper can't show, told before anything is printed."""

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.table.profile.model import Profile

SHOWN = 12
"""So many letters are named."""


def unset_words(profile: Profile) -> tuple[Finding, ...]:
    """A caution for each of the maker's own names with letters that no face has."""
    from templategen.output.typeset import unset

    return tuple(_finding(where, name, unset(name)) for where, name in _names(profile) if unset(name))


def _names(profile: Profile) -> Iterator[tuple[str, str]]:
    yield "title", profile.title
    yield "wood", profile.wood
    yield from (("stock", stock.name) for stock in profile.stock)
    maker = profile.maker
    yield from (("maker", words) for words in (maker.name, *maker.lines, maker.currency, maker.delivery) if words)


def _finding(where: str, name: str, letters: str) -> Finding:
    fields = {"name": name, "letters": letters[:SHOWN]}
    return Finding("no-letters", "caution", where, float(len(letters)), (None, 0.0), fields)
