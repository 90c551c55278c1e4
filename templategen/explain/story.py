"""The story of a figure: every figure it depends on, from the answer down to what was given."""

import difflib
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from templategen.catalogue import translated, worded
from templategen.errors import Fault, TemplategenError
from templategen.explain.book import Quantity

CLOSE = 0.6
"""How similar (0 to 1) a known name must be to a mistyped one to be suggested."""

OFFERED = 3


@dataclass(frozen=True, slots=True)
class Story:
    """A figure, the steps that lead to it (itself first), and what was given, each once."""

    steps: tuple[Quantity, ...]
    given: tuple[Quantity, ...]


def story_of(pages: Mapping[str, Quantity], name: str) -> Story:
    """How the figure called `name` came about: each step before those that it leans on.

    Raises: TemplategenError for a name that isn't known, with the nearest ones.
    """
    if name not in pages:
        found = worded('"{name}" is no quantity of this table', name=shown(name))
        raise TemplategenError(Fault("explain", found, _offer(name, pages)))
    needed, waiting = {name}, [name]
    while waiting:
        fresh = [term for _, term in pages[waiting.pop()].terms if term not in needed]
        needed.update(fresh)
        waiting += fresh
    # What a formula uses stands before it in the book, so backwards each step comes before what it leans on.
    ordered = [pages[other] for other in reversed(tuple(pages)) if other in needed]
    steps = tuple(quantity for quantity in ordered if quantity.formula)
    return Story(steps, tuple(quantity for quantity in reversed(ordered) if not quantity.formula))


def under(pages: Mapping[str, Quantity], beginning: str) -> tuple[Quantity, ...]:
    """The quantities whose names begin with these words: `part.RIM-A`, `legs`."""
    start = beginning.rstrip(".") + "."
    return tuple(quantity for name, quantity in pages.items() if name.startswith(start))


def shown(name: str) -> str:
    """A name as typed, cut short and with unprintable characters replaced."""
    return "".join(sign if sign.isprintable() else "?" for sign in name[:60])


def _offer(name: str, pages: Iterable[str]) -> str:
    found = nearest(name, tuple(pages))
    if not found:
        return translated("without a name, explain lists them all")
    return worded("did you mean {names}?", names=translated(" or ").join(found))


def nearest(name: str, known: Iterable[str]) -> tuple[str, ...]:
    """The known names most like `name`, those that end in it first."""
    plain = name[:80].casefold().strip().replace(" ", "_")
    by_plain = {other.casefold(): other for other in known}
    ending = [other for other in by_plain if plain and other.endswith(f".{plain}")]
    close = difflib.get_close_matches(plain, list(by_plain), OFFERED, CLOSE)
    last = {other.rpartition(".")[2]: other for other in reversed(by_plain)}
    close += [last[word] for word in difflib.get_close_matches(plain.rpartition(".")[2], list(last), 1, CLOSE)]
    return tuple(by_plain[other] for other in dict.fromkeys((*ending, *close)))[:OFFERED]
