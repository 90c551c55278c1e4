"""The study: every way of working by formula and by trial, and which one to take."""

from dataclasses import dataclass
from functools import lru_cache, partial

from templategen.catalogue import figured
from templategen.checks.describe import said
from templategen.checks.finding import Finding
from templategen.checks.levels import at_least
from templategen.checks.would_do import with_values
from templategen.fit.plan import RING_WAYS, Closing, Plan
from templategen.shop.closing import formula
from templategen.shop.closing.formula import RingErrors, ring_errors
from templategen.shop.closing.simulate import RINGS, SEED, Strung, Trial, draw, strung, trials
from templategen.shop.closing.ways import WAYS, Way, way_of
from templategen.table.assembly import Table
from templategen.table.sizes import Sizes
from templategen.units import length_words


@dataclass(frozen=True, slots=True)
class Figures:
    """A way of working by closed formula: standard deviations of the missing angle (radians), of what stays open at
    each joint that takes it up and at the last joint alone (mm), the chance that all stay under the limit, and the
    opening that 95 rings in 100 stay under."""

    way: Way
    setting: bool
    angle: float
    opening: float
    last: float
    chance: float
    p95: float


@dataclass(frozen=True, slots=True)
class Shares:
    """The last gap of a ring strung corner to corner at one end of the joint, mm: from angles and from lengths."""

    from_angles: float
    from_lengths: float

    @property
    def whole(self) -> float:
        """Both together."""
        return float((self.from_angles**2 + self.from_lengths**2) ** 0.5)

    @property
    def angle_share(self) -> float:
        """The angles' share of the variance, 0 to 1."""
        return self.from_angles**2 / self.whole**2 if self.whole else 0.0


@dataclass(frozen=True, slots=True)
class ClosingStudy:
    """Whether a ring will close in this shop.

    `figures` and `trials` go by way, each first with cuts that scatter alone, then with a setting that is off too;
    `advised` is the way that is taken. `inner` and `outer` are the last gap's shares at both ends of the joint.
    """

    ring: RingErrors
    figures: tuple[Figures, ...]
    trials: tuple[Trial, ...]
    inner: Shares
    outer: Shares
    strung: Strung
    advised: Way

    def figure(self, name: str, setting: bool) -> Figures:
        """The figures of a way by its name."""
        return next(f for f in self.figures if f.way.name == name and f.setting == setting)

    def trial(self, name: str, setting: bool) -> Trial:
        """The trial of a way by its name."""
        return next(t for t in self.trials if t.way == name and t.setting == setting)

    def reason(self, units: str) -> str:
        """Why the way advised is advised, with the numbers."""
        best = self.figure(self.advised.name, True)
        plain = self.figure("stop", True)
        better = self.figure(ranked(self.figures)[0], True)
        is_better = better.way is not self.advised and better.chance > best.chance
        return said(
            "{way:word}: in {chance:.3g} % of rings every joint is under {limit}[, all to a stop in {plain:.3g} %][; "
            "{better:word} would close {more:.3g} %, but this ring can't be put together so]",
            way=self.advised.title,
            limit=figured(length_words(self.ring.limit, units)),
            chance=100 * best.chance,
            plain=None if self.advised.name == "stop" else 100 * plain.chance,
            better=better.way.title if is_better else None,
            more=100 * better.chance,
        )


def figures_of(ring: RingErrors) -> tuple[Figures, ...]:
    """Every way by formula; nothing is drawn at random, so it takes no time."""
    return tuple(
        Figures(
            way,
            setting,
            formula.closing_angle(ring, way.name, setting),
            formula.opening(ring, way.name, setting),
            formula.last_joint(ring, way.name, setting),
            formula.chance(ring, way.name, setting),
            formula.worst(ring, way.name, setting),
        )
        for way in WAYS
        for setting in (False, True)
    )


def ranked(figures: tuple[Figures, ...]) -> tuple[Closing, ...]:
    """The ways in the order in which they are to be wished for: what closes enough rings though the setting is off,
    the least trouble first, then the others by how many they close."""
    rows = [f for f in figures if f.setting]
    sure = [f for f in rows if f.chance >= formula.SURE]
    rest = sorted((f for f in rows if f not in sure), key=lambda f: -f.chance)
    return tuple(f.way.name for f in (*sure, *rest))


def wished(table: Table) -> tuple[Closing, ...]:
    """The ways for this ring in this shop, the best first; where the maker names one, that."""
    own = table.profile.work.closing
    best = ranked(figures_of(ring_errors(table.sizes)))
    return best if own == "auto" else (own, *(way for way in best if way != own))


def closing_study(sizes: Sizes, rings: int = RINGS, seed: int = SEED, taken: Closing | None = None) -> ClosingStudy:
    """The whole study; the same seed gives the same figures. `taken` is the way that its parts allow, the best
    one where that isn't known."""
    return _study(ring_errors(sizes), rings, seed, taken)


@lru_cache(maxsize=4)
def _study(ring: RingErrors, rings: int, seed: int, taken: Closing | None) -> ClosingStudy:
    """Kept, since lists and page show the same."""
    figures = figures_of(ring)
    draws = draw(ring, rings, seed)
    reach = max(2 * ring.limit, min(max(f.p95 for f in figures), 4 * ring.limit))
    return ClosingStudy(
        ring,
        figures,
        trials(ring, draws, reach),
        Shares(*formula.strung_gap(ring, 0.0)),
        Shares(*formula.strung_gap(ring, ring.face)),
        strung(ring, draws),
        way_of(taken or ranked(figures)[0]),
    )


EVEN = 0.5
"""Under this chance the best way of working closes a ring only by luck."""


def closing_findings(table: Table, plan: Plan) -> tuple[Finding, ...]:
    """The chance that every mitre stays under `limits.joint_gap` in the way taken; a caution where it is less than
    even, and where the maker's own can't be taken. Each names a value that would do."""
    judged = partial(_judged, plan=plan)
    return with_values(table, judged(table), (judged,))


def _judged(table: Table, plan: Plan) -> tuple[Finding, ...]:
    ring = ring_errors(table.sizes)
    figures = figures_of(ring)
    way = way_of(plan.closing)
    chance = {f.way.name: f.chance for f in figures if f.setting}
    best = chance[way.name]
    others = tuple(
        said("{way:word} {chance:.0f} %", way=f.way.title, chance=100 * f.chance)
        for f in figures
        if f.setting and f.way is not way
    )
    fields = {"way": way.title, "limit": ring.limit, "others": others}
    closes = at_least("ring-closes", "shop.mitre_error", round(100 * best, 1), (None, 100 * EVEN), **fields)
    own = table.profile.work.closing
    if own in ("auto", way.name) or plan.locked:
        return (closes,)
    fields = {"wish": way_of(own).title, "ring": RING_WAYS[plan.ring], "way": way.title}
    return closes, Finding("closing-not-as-wished", "caution", "work.closing", 1.0, (0.0, 0.0), fields)
