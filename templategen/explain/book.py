"""The book of quantities: each is written once, its value worked out from its formula."""

from collections.abc import Iterator, Mapping

from templategen.explain.evaluate import evaluate
from templategen.explain.quantity import Quantity, Unit


class Book:
    """Quantities by name, in the order written; a formula may only use what stands before it: none go in circles."""

    def __init__(self) -> None:
        self._written: dict[str, Quantity] = {}

    def __contains__(self, name: str) -> bool:
        return name in self._written

    def __iter__(self) -> Iterator[Quantity]:
        return iter(self._written.values())

    def value(self, name: str) -> float:
        """The value of what is written under `name`."""
        return self._written[name].value

    @property
    def pages(self) -> Mapping[str, Quantity]:
        """All quantities by name."""
        return self._written

    def given(self, name: str, says: str, value: float, unit: Unit, source: str) -> str:
        """Writes down what isn't worked out, and where it comes from."""
        return self._write(Quantity(name, says, float(value), unit, source=source))

    def add(self, name: str, says: str, unit: Unit, formula: str, source: str = "", **terms: str) -> str:
        """Writes down what follows from others: `terms` are the formula's symbols, each with a quantity's name."""
        value = evaluate(formula, {symbol: self.value(term) for symbol, term in terms.items()})
        return self._write(Quantity(name, says, value, unit, formula, tuple(terms.items()), source))

    def put(self, quantity: Quantity) -> str:
        """Writes down a quantity made elsewhere."""
        return self._write(quantity)

    def _write(self, quantity: Quantity) -> str:
        if quantity.name in self._written:
            raise KeyError(f"{quantity.name} is written twice")
        self._written[quantity.name] = quantity
        return quantity.name
