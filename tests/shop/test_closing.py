"""Whether the ring closes: formulas, trials and rings built piece by piece, each against the others."""

from __future__ import annotations

import time
from dataclasses import replace
from itertools import combinations
from math import atan2, cos, degrees, hypot, pi, sin, sqrt
from random import Random
from typing import Literal

import pytest
from shapely.ops import unary_union

from templategen.checks.finding import Finding
from templategen.drawing.closing_picture import closing_picture
from templategen.drawing.drawing import Shape, words_of
from templategen.english import spoken
from templategen.fit.plan import Plan, plan_assembly
from templategen.output.svg import svg_text
from templategen.shop.closing import formula
from templategen.shop.closing.formula import FEELER, RingErrors, ring_errors
from templategen.shop.closing.listed import closing_list
from templategen.shop.closing.simulate import draw, strings, strung, trials
from templategen.shop.closing.study import ClosingStudy, closing_findings, closing_study, ranked, wished
from templategen.shop.closing.ways import WAYS
from templategen.table.assembly import Table, build_table
from templategen.table.profile.change import changed as with_changes
from tests.drawing.shipped_tables import text_shape
from tests.table.made import SHAPES, profile_of, shaped, table_of

RINGS = 20_000

SIGMAS = 4.5
"""How many standard errors of the sample a trial may be off: one figure in 150,000 by chance."""


@pytest.fixture(scope="module")
def study() -> ClosingStudy:
    """The dining table's study."""
    return closing_study(table_of().sizes)


def slow_ring(ring: RingErrors, rng: Random) -> tuple[float, float, float]:
    """A ring laid piece by piece from its polygons: missing angle, gap at the inner and outer end of the last joint.

    Each piece is a trapezium in its own frame, moved so that its first inner corner and face lie on the last face of
    the one before.
    """
    mitre, edge = pi / ring.segments, 2 * ring.corner * sin(pi / ring.segments)
    corner, way = (0.0, 0.0), (0.0, -1.0)
    start = (corner, way)
    for _ in range(ring.segments):
        a, b = mitre + rng.gauss(0, ring.angle), mitre + rng.gauss(0, ring.angle)
        length = edge + rng.gauss(0, ring.length)
        # In the piece's frame the inner edge runs from (0, 0) to (length, 0), the wood lies below it.
        first, last = (-sin(a), -cos(a)), (sin(b), -cos(b))
        turn = atan2(way[1], way[0]) - atan2(first[1], first[0])
        c, s = cos(turn), sin(turn)
        corner = (corner[0] + c * length, corner[1] + s * length)
        way = (c * last[0] - s * last[1], s * last[0] + c * last[1])
    (x0, y0), (rx, ry) = start
    normal = (-ry, rx)
    inner = (x0 - corner[0]) * normal[0] + (y0 - corner[1]) * normal[1]
    tip = (corner[0] + ring.face * way[0], corner[1] + ring.face * way[1])
    outer = (x0 - tip[0]) * normal[0] + (y0 - tip[1]) * normal[1]
    missing = atan2(way[0] * ry - way[1] * rx, way[0] * rx + way[1] * ry)
    return missing, inner, outer


def spread(values: list[float]) -> float:
    """Standard deviation about nought."""
    return sqrt(sum(v * v for v in values) / len(values))


def test_slow_rings_agree_with_the_formulas() -> None:
    """Polygons laid corner to corner scatter as sqrt(2N), and as the last gap's shares say, within sampling."""
    ring, rng = ring_errors(table_of().sizes), Random(4)
    rings = [slow_ring(ring, rng) for _ in range(4000)]
    allowed = SIGMAS / sqrt(2 * len(rings)) + 0.005
    assert spread([m for m, _, _ in rings]) == pytest.approx(formula.closing_angle(ring, "stop", False), rel=allowed)
    for values, along in (([i for _, i, _ in rings], 0.0), ([o for _, _, o in rings], ring.face)):
        assert spread(values) == pytest.approx(hypot(*formula.strung_gap(ring, along)), rel=allowed)


def test_slow_rings_agree_with_the_trial_ring_by_ring() -> None:
    """The same errors give the same missing angle and last gap, laid as polygons or as sums."""

    class Given(Random):
        """Hands out errors drawn elsewhere, each of unit spread."""

        def gauss(self, mu: float = 0.0, sigma: float = 1.0) -> float:
            return next(self.errors)  # type: ignore[attr-defined,no-any-return]

    ring = ring_errors(table_of().sizes)
    draws = draw(ring, 50, 7)
    missing, gap, _ = strings(ring, draws)
    for number in range(50):
        rng = Given()
        rows = zip(draws.first[number], draws.second[number], draws.lengths[number], strict=True)
        rng.errors = iter([float(v) for row in rows for v in row])  # type: ignore[attr-defined]
        slow = slow_ring(ring, rng)
        assert slow[0] == pytest.approx(missing[number], abs=1e-9)
        # The slow ring's first face stands as cut; the sums see the gap square to that same face.
        assert abs(slow[1] - gap[number]) < 1e-6


@pytest.mark.parametrize("rails,segments", SHAPES)
def test_trials_agree_with_the_formulas(rails: int, segments: int) -> None:
    """Every way of working spreads, and stays under the limit, as often as its formula says, within sampling."""
    study = closing_study(shaped(rails, segments).sizes, RINGS)
    for figures, trial in zip(study.figures, study.trials, strict=True):
        assert trial.deviation == pytest.approx(figures.opening, rel=SIGMAS / sqrt(2 * RINGS) + 1e-3)
        error = SIGMAS * sqrt(figures.chance * (1 - figures.chance) / RINGS)
        assert trial.share == pytest.approx(figures.chance, abs=error + 1e-3)
        assert trial.p95 == pytest.approx(figures.p95, rel=0.04)
    for shares, seen in ((study.inner, study.strung.inner), (study.outer, study.strung.outer)):
        assert seen == pytest.approx(shares.whole, rel=SIGMAS / sqrt(2 * RINGS) + 1e-3)


@pytest.mark.wide
def test_a_seed_gives_the_same_figures_and_another_seed_others(study: ClosingStudy) -> None:
    """Figures depend on the seed alone."""
    again = closing_study(table_of().sizes)
    assert closing_list(again) == closing_list(study)
    other = closing_study(table_of().sizes, seed=5)
    assert other.trials != study.trials and other.figures == study.figures


def test_a_wrong_setting_adds_on_every_cut() -> None:
    """A setting off by e leaves 2 N e open, which is sqrt(2 N) times what the same error leaves when it scatters."""
    ring = replace(ring_errors(table_of().sizes), angle=0.0)
    assert degrees(formula.closing_angle(ring, "stop", True)) == pytest.approx(24 * 0.1)
    both = replace(ring, angle=ring.setting)
    scatter = formula.closing_angle(both, "stop", False)
    assert formula.closing_angle(ring, "stop", True) / scatter == pytest.approx(sqrt(24))


def test_a_scrap_ring_frees_from_the_setting_at_the_price_of_scatter() -> None:
    """After a scrap ring no setting error is left, but the scatter counts twice; feelers add their own."""
    ring = ring_errors(table_of().sizes)
    wrong = replace(ring, setting=10 * ring.setting)
    assert formula.closing_angle(wrong, "scrap", True) == formula.closing_angle(ring, "scrap", False)
    twice = hypot(sqrt(2) * formula.closing_angle(ring, "stop", False), FEELER / ring.face)
    assert formula.closing_angle(ring, "scrap", True) == pytest.approx(twice)


def test_steps_close_the_ring() -> None:
    """Pieces moved along their joints by the slides of the trial, the missing angle shared, do meet again."""
    from templategen.shop.closing.simulate import _slides

    ring = ring_errors(table_of().sizes)
    draws = draw(ring, 30, 3)
    missing, _, _ = strings(ring, draws)
    slides = _slides(ring, draws, missing)
    mitre, edge = pi / ring.segments, 2 * ring.corner * sin(pi / ring.segments)
    for number in range(30):
        share = missing[number] / (2 * ring.segments)
        x = y = heading = 0.0
        for piece in range(ring.segments):
            length = edge + draws.lengths[number, piece]
            second = mitre + draws.second[number, piece] + share
            x, y = x + length * cos(heading), y + length * sin(heading)
            # Slide 0 belongs to the last joint.
            face = heading - pi / 2 + second
            slide = slides[number, (piece + 1) % ring.segments]
            x, y = x + slide * cos(face), y + slide * sin(face)
            following = draws.first[number, (piece + 1) % ring.segments]
            heading += second + mitre + following + share
        assert hypot(x, y) < 0.15


def test_a_perfect_saw_closes_every_ring() -> None:
    """With no errors at all every way is sure, and cutting to a stop is advised."""
    table = table_of({"shop.mitre_error": 0.0, "shop.length_error": 0.0})
    study = closing_study(table.sizes, 1000)
    assert {f.chance for f in study.figures if f.way.name != "scrap"} == {1.0}
    assert study.advised.name == "stop"
    assert closing_list(study)[1]


def test_the_way_advised_is_the_least_trouble_that_is_sure(study: ClosingStudy) -> None:
    """No way before the one advised reaches 95 %, with the setting off, and the list gives the numbers."""
    for way in WAYS[: WAYS.index(study.advised)]:
        assert study.figure(way.name, True).chance < 0.95
    assert study.figure(study.advised.name, True).chance >= 0.95
    advice = next(row for row in closing_list(study)[1] if row[2] == "advised")
    assert study.advised.title in str(advice[6]) and "%" in str(advice[6])


def test_check_tells_the_chance_by_formula_alone() -> None:
    """The finding's figure is the advised way's chance; it is a caution only where luck decides."""

    def told(table: Table) -> tuple[Finding, ...]:
        return closing_findings(table, Plan((), "two halves", (), "halves"))

    (note,) = told(table_of())
    assert note.level == "note" and note.measured == pytest.approx(100.0, abs=0.1)
    (care,) = told(table_of({"shop.length_error": 8.0, "shop.mitre_error": 0.02}))
    assert care.measured < 100
    (bad,) = told(table_of({"shop.length_error": 10.0, "limits.joint_gap": 0.02}))
    assert bad.level == "caution"


def test_a_gap_that_glue_does_not_bridge_names_how_true_to_saw() -> None:
    """Under a stricter `limits.joint_gap` the chance is a caution; with the error that it names it is a note again,
    and with a step more it isn't."""
    plan, plain, key = Plan((), "two halves", (), "scrap"), profile_of(), "shop.mitre_error"
    strict = with_changes(plain, {"limits.joint_gap": 0.02})
    (held,), (one,) = (closing_findings(build_table(each), plan) for each in (plain, strict))
    assert (held.level, held.would, one.level) == ("note", None, "caution")
    assert one.would and one.would.key == key and one.would.value > 0
    for more, level in ((0, "note"), (0.01, "caution")):
        (tried,) = closing_findings(build_table(with_changes(strict, {key: one.would.value + more})), plan)
        assert tried.level == level


@pytest.mark.wide
def test_a_way_that_the_parts_do_not_allow_is_not_taken() -> None:
    """Halves would close more rings, but these parts lock them: planned is the best of the others, which study and
    findings tell alike; the maker's own wish goes first, and is answered where it can't be."""
    table = table_of()
    plan = plan_assembly(table, wished(table))
    study = closing_study(table.sizes, 1000, taken=plan.closing)
    chances = {f.way.name: f.chance for f in study.figures if f.setting}
    assert ranked(study.figures)[0] == "halves" and plan.ring == "one by one"
    assert study.advised.name == plan.closing == max(("scrap", "measure"), key=lambda name: chances[name])
    assert "can't be put together so" in study.reason("mm")
    own = table_of({"work.closing": "measure"})
    assert plan_assembly(own, wished(own)).closing == "measure"
    halves = table_of({"work.closing": "halves"})
    *_, refused = closing_findings(halves, plan_assembly(halves, wished(halves)))
    assert (refused.level, refused.where) == ("caution", "work.closing") and "one at a time" in refused.says


def test_a_hundred_thousand_rings_take_about_a_second() -> None:
    """The whole study is quick enough to be made with every packet."""
    sizes = table_of().sizes
    closing_study(sizes, 10)
    begun = time.process_time()
    closing_study(sizes)
    assert time.process_time() - begun < 3.0


def test_the_picture_shows_every_ring(study: ClosingStudy) -> None:
    """Each way's bars count all rings, and the picture names its limit, axes and unit."""
    for trial in study.trials:
        assert sum(trial.bins) == trial.rings
    picture = closing_picture(study, "Towpath <dining> & table")
    bars = [m for m in picture.marks if isinstance(m, Shape)]
    assert len(bars) == sum(1 for t in study.trials if t.setting for count in t.bins if count)
    text = svg_text(picture)
    assert "limit 0.15 mm" in text and "&lt;dining&gt; &amp; table" in text and "share of rings" in text


@pytest.mark.parametrize("language", ["british", "german"])
def test_the_picture_can_be_read_on_paper(study: ClosingStudy, language: Literal["british", "german"]) -> None:
    """Across a page of A4 no letter is smaller than 1.7 mm, and no words lie on others."""
    with spoken(language, ()):
        words = [mark for mark in words_of(closing_picture(study, "").marks) if mark.text]
    rooms = [text_shape(one) for one in words]
    left, _, right, _ = unary_union(rooms).bounds
    assert min(one.height for one in words) * 180 / (right - left) >= 1.7
    assert not any(one.intersects(other) for one, other in combinations(rooms, 2))


def test_strung_needs_no_wedge_where_angles_are_true() -> None:
    """With true angles the last gap is made by lengths alone, sqrt(N/2) times their scatter."""
    ring = replace(ring_errors(table_of().sizes), angle=0.0)
    seen = strung(ring, draw(ring, RINGS, 2))
    assert seen.inner == pytest.approx(ring.length * sqrt(6), rel=SIGMAS / sqrt(2 * RINGS))
    assert seen.inner == pytest.approx(seen.outer)
    assert trials(ring, draw(ring, 10, 2), 1.0)[0].deviation == pytest.approx(0.0, abs=1e-9)
