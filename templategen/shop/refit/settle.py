"""Settles what was measured: repeated sizes as one, dependent sizes balanced, contradictions named."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import cos, degrees, fsum, hypot, tan

from templategen.catalogue import worded
from templategen.checks.finding import Finding
from templategen.shop.refit.read import Bench
from templategen.shop.refit.sizes import Best, Measurement, apart, size_of, weighted_mean
from templategen.table.assembly import Table

CONTRADICTS = 3.0
"""Measurements more than this many standard deviations apart can't be of the same size."""

SAME = 1e-6
"""A size measured this near to the drawing's is the drawing's, mm (a thousandth of it in radians)."""

Copy = tuple[str, int]
"""A part's code and the place of one of its copies."""


@dataclass(frozen=True, slots=True)
class Settled:
    """The best sizes of each copy measured, by name, and what was found wrong with the measuring."""

    sizes: Mapping[Copy, Mapping[str, Best]]
    cut: frozenset[Copy]
    findings: tuple[Finding, ...]

    def best(self, copy: Copy, name: str, drawn: float) -> float:
        """A size of a copy, the drawing's where none was measured."""
        best = self.sizes.get(copy, {}).get(name)
        return drawn if best is None else best.value


def settle(table: Table, bench: Bench) -> Settled:
    """The measured sizes settled."""
    groups: dict[Copy, dict[str, list[Measurement]]] = defaultdict(lambda: defaultdict(list))
    for one in bench.measured:
        groups[one.code, one.place][one.name].append(one)
    findings = [finding for copy, sizes in sorted(groups.items()) for finding in _repeated(copy, sizes)]
    settled: dict[Copy, dict[str, Best]] = {}
    for copy, sizes in sorted(groups.items()):
        best = {name: _snapped(table, copy, name, weighted_mean(several)) for name, several in sizes.items()}
        balanced, contradiction = _balanced(table, copy, best)
        settled[copy] = balanced
        findings += contradiction
    return Settled(settled, bench.cut, tuple(findings))


def named(copy: Copy) -> str:
    """A copy as it is spoken of."""
    return worded("{code} at place {place}", code=copy[0], place=copy[1])


def _snapped(table: Table, copy: Copy, name: str, best: Best) -> Best:
    """The drawing's size where the measured one is no other."""
    part = table.part(copy[0])
    size = size_of(part, name)
    assert size is not None
    drawn = size.drawn(table, part)
    near = SAME if size.kind == "length" else SAME / 1000
    return Best(drawn, best.accuracy) if abs(best.value - drawn) <= near else best


def _repeated(copy: Copy, sizes: Mapping[str, Sequence[Measurement]]) -> Iterator[Finding]:
    """A stop for each size measured twice with results that can't both be true."""
    for name, several in sorted(sizes.items()):
        worst = max(combinations(several, 2), key=lambda pair: apart(*pair), default=None)
        if worst is None or apart(*worst) <= CONTRADICTS:
            continue
        one, other = worst
        off = abs(one.value - other.value)
        angle = name.endswith("angle")
        allowed = CONTRADICTS * hypot(one.accuracy, other.accuracy)
        fields = {"one": one.where, "other": other.where, "size": _spoken(name), "piece": named(copy)}
        if angle:
            off, allowed = degrees(off), degrees(allowed)
        kind = "angles-contradict" if angle else "lengths-contradict"
        yield Finding(kind, "stop", other.where, off, (None, allowed), fields)


def _spoken(name: str) -> str:
    return name.replace("_", " ")


@dataclass(frozen=True, slots=True)
class _Term:
    """A size in an equation: its value, its accuracy, how much it counts, and whether it was measured."""

    name: str
    value: float
    accuracy: float
    share: float
    measured: bool


def _balanced(table: Table, copy: Copy, best: dict[str, Best]) -> tuple[dict[str, Best], list[Finding]]:
    """Interdependent sizes, made consistent by least squares."""
    kind = table.part(copy[0]).kind
    if kind == "rim-segment" and "outer_length" in best:
        return _agreed(copy, best, list(_segment_terms(table, best)))
    if kind == "rail" and "length" in best:
        return _agreed(copy, best, list(_rail_terms(table, best)))
    return best, []


def _segment_terms(table: Table, best: Mapping[str, Best]) -> Iterator[_Term]:
    """outer length - length - width (tan left + tan right) = 0, straightened at the sizes as they are."""
    sizes, shop = table.sizes, table.profile.shop
    width = best.get("width", Best(sizes.profile.top.rim_width, shop.length_error or SAME))
    ends = [best.get(name, Best(sizes.mitre, shop.mitre_error or SAME)) for name in ("left_angle", "right_angle")]
    outer = best["outer_length"]
    inner = best.get("length", Best(sizes.inner_length, shop.length_error or SAME))
    slopes = fsum(tan(end.value) for end in ends)
    # The constant that the straight line leaves out sits in the width's term.
    yield _Term("outer_length", outer.value, outer.accuracy, 1.0, True)
    yield _Term("length", inner.value, inner.accuracy, -1.0, "length" in best)
    yield _Term("width", width.value, width.accuracy, -slopes, "width" in best)
    for name, end in zip(("left_angle", "right_angle"), ends, strict=True):
        yield _Term(name, end.value, end.accuracy, -width.value / cos(end.value) ** 2, name in best)


def _rail_terms(table: Table, best: Mapping[str, Best]) -> Iterator[_Term]:
    """length - first shoulder - second shoulder = 0."""
    a, error = table.sizes.inner_apothem, table.profile.shop.length_error or SAME
    yield _Term("length", best["length"].value, best["length"].accuracy, 1.0, True)
    for name in ("first_shoulder", "second_shoulder"):
        end = best.get(name, Best(a, error))
        yield _Term(name, end.value, end.accuracy, -1.0, name in best)


def _misfit(terms: Sequence[_Term]) -> float:
    """What the equation is off: angles count by their tangents, so it is exact."""
    values = {term.name: term.value for term in terms}
    if "outer_length" in values:
        slopes = tan(values["left_angle"]) + tan(values["right_angle"])
        return values["outer_length"] - values["length"] - values["width"] * slopes
    return values["length"] - values["first_shoulder"] - values["second_shoulder"]


def _agreed(copy: Copy, best: dict[str, Best], terms: list[_Term]) -> tuple[dict[str, Best], list[Finding]]:
    misfit = _misfit(terms)
    variance = fsum((term.share * term.accuracy) ** 2 for term in terms)
    if abs(misfit) <= SAME:
        return best, []
    found = []
    if abs(misfit) > CONTRADICTS * variance**0.5:
        fields = {"piece": named(copy), "sizes": tuple(_spoken(term.name) for term in terms if term.measured)}
        limit = CONTRADICTS * variance**0.5
        found.append(Finding("sizes-contradict", "stop", copy[0], abs(misfit), (None, limit), fields))
    agreed = dict(best)
    for term in terms:
        moved = term.value - term.share * term.accuracy**2 / variance * misfit
        rest = 1 - (term.share * term.accuracy) ** 2 / variance
        agreed[term.name] = Best(moved, term.accuracy * max(rest, 0.0) ** 0.5 or SAME)
    return agreed, found
