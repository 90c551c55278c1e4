"""What a kind of finding says: texts with places for its fields."""

from typing import NamedTuple


class Sentence(NamedTuple):
    """`says` names what was measured in `unit`, `why` explains it and tells the nearest change that would do, `do`
    asks for something to be done; `keys` are the profile's keys that it names besides the one that it is about.

    `{name}` stands for a field, `{name:mm}` for a length in the maker's units (`told` has all forms); what stands in
    square brackets is left out where one of its fields is.
    """

    says: str
    unit: str = "mm"
    why: str = ""
    do: str = ""
    keys: tuple[str, ...] = ()
