"""The ledger: figures for set-ups, each written into the book of quantities as it is used."""

from templategen.explain.book import Book, Quantity, Unit, terms_of
from templategen.shop.set_ups.set_up import Figure, Setting, SettingName
from templategen.table.profile.model import Profile

PREFIX = "set_up."


class Ledger:
    """Makes figures. Names of its own begin with `set_up.`; all others must stand in the book already.

    The same name may be written again with the same formula: parts with the same setting share it.
    """

    def __init__(self, book: Book, profile: Profile) -> None:
        self.book, self.profile = book, profile
        self._own: dict[str, Quantity] = {}

    @property
    def own(self) -> tuple[Quantity, ...]:
        """The quantities that set-ups add, in the order written."""
        return tuple(self._own.values())

    def value(self, name: str) -> float:
        """The value of what is written under `name`."""
        return self.book.value(name)

    def has(self, name: str) -> bool:
        """Whether the book knows `name`."""
        return name in self.book

    def given(self, name: str, says: str, value: float, unit: Unit, source: str) -> str:
        """A figure from a table or a rule; gives its full name."""
        full = PREFIX + name
        if full not in self._own:
            self.book.given(full, says, value, unit, source)
            self._own[full] = self.book.pages[full]
        return full

    def add(self, name: str, says: str, unit: Unit, formula: str, source: str = "", **terms: str) -> str:
        """A figure worked out from others; gives its full name.

        Raises: KeyError where the name stands for something else.
        """
        full = PREFIX + name
        known = self._own.get(full)
        if known is None:
            self.book.add(full, says, unit, formula, source, **terms)
            self._own[full] = self.book.pages[full]
        elif (known.formula, known.terms) != (formula, terms_of(formula, terms)):
            raise KeyError(f"{full} is written twice")
        return full

    def figure(self, name: str) -> Figure:
        """The figure of a quantity."""
        quantity = self.book.pages[name]
        return Figure(name, quantity.value, quantity.unit)

    def setting(self, setting: SettingName, quantity: str, says: str) -> Setting:
        """A setting whose figure is that quantity."""
        return Setting(setting, self.figure(quantity), says)
