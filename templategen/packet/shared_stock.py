"""The stock of several profiles as one: equal entries are one entry, contradicting ones of one name are refused."""

from collections.abc import Iterator, Sequence
from dataclasses import fields

from templategen.catalogue import translated, worded
from templategen.errors import Fault, ProfileError
from templategen.table.profile.model import Profile
from templategen.table.profile.model_of_shop import Stock


def shared_stock(profiles: Sequence[Profile]) -> tuple[Stock, ...]:
    """All stock, in the order in which it is first listed.

    Raises:
        ProfileError: two profiles list different stock under one name.
    """
    known: dict[str, tuple[Stock, Profile]] = {}
    faults: list[Fault] = []
    for profile in profiles:
        for number, stock in enumerate(profile.stock, 1):
            first, home = known.setdefault(stock.name.casefold(), (stock, profile))
            faults += _contradictions(first, home, stock, profile, f"stock[{number}]")
    if faults:
        raise ProfileError(faults)
    return tuple(stock for stock, _ in known.values())


def _contradictions(first: Stock, home: Profile, other: Stock, profile: Profile, where: str) -> Iterator[Fault]:
    for field in fields(Stock):
        one, two = getattr(first, field.name), getattr(other, field.name)
        if one != two:
            found = worded(
                '"{name}" is {here} here and {there} in {other}',
                name=other.name,
                here=_written(two),
                there=_written(one),
                other=home.name,
            )
            remedy = translated("list the same stock alike in both profiles, or give it another name")
            line = profile.line_of(f"{where}.{field.name}") or profile.line_of(where)
            yield Fault(f"{where}.{field.name}", found, remedy, profile.file_of(where), line)


def _written(value: object) -> str:
    if isinstance(value, tuple):
        return f"[{', '.join(map(_written, value))}]"
    return f"{value:g}" if isinstance(value, float) else "left out" if value is None else str(value)
