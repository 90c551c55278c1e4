"""Spacing: the formulas of the span, for every run and both holds."""

from __future__ import annotations

from math import cos, pi, sin

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from templategen.errors import DesignError
from templategen.table.sizes import Sizes
from templategen.table.spacing import Spacing, spacing_of
from tests.table.made import RUNS, SHAPES, TIGHT, profile_of

HOLDS = ("width", "gap")
APEXES = ("open", "closed")


def solved(
    shape: tuple[int, int], run: str, hold: str, apex: str, width: float = 58.0, gap: float = 6.0
) -> tuple[Spacing, Sizes]:
    """The spacing of a dining table with other slats."""
    slats = {"run": run, "hold": hold, "apex": apex, "width": width, "gap": gap}
    top = {"top.rails": shape[0], "top.segments": shape[1], "top.rim_width": 190.0 if shape[1] == 6 else 126.0}
    sizes = Sizes(profile_of(TIGHT | top | {f"slats.{key}": value for key, value in slats.items()}))
    return spacing_of(sizes), sizes


def span(sizes: Sizes, run: str) -> float:
    """What the slats and gaps share, by the page of definitions."""
    k, segments, b = sizes.profile.top.rails, sizes.profile.top.segments, sizes.profile.top.rail_width / 2
    a, th = sizes.inner_apothem, pi / k
    if run == "across":
        odd = (segments // (2 * k)) % 2
        return (a / cos(pi / segments) if odd else a) - b / sin(th / 2)
    if run == "along":
        return 2 * (a * sin(th / 2) - b * cos(th / 2))
    return (a if segments % 4 == 0 else a / cos(pi / segments)) - b


LARCH = 1.2 * 0.078
"""Movement of plain sawn larch, for each share of 30 % moisture."""

MOISTURES = (8.586, 18.206)
"""Of wood in the air of the dining table, driest and wettest, %."""


def swelling(run: str, apex: str) -> float:
    """The share of its width that a slat beside a rail, pinned in its middle, comes nearer to it by the wettest."""
    if (run, apex) != ("straight", "closed"):
        return 0.0
    built = sum(MOISTURES) / 2
    return LARCH * (MOISTURES[1] - built) / 30 / (1 - 0.078 * (30 - built) / 30) / 2


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("hold", HOLDS)
@pytest.mark.parametrize("apex", APEXES)
def test_slats_and_gaps_fill_the_span(shape: tuple[int, int], run: str, hold: str, apex: str) -> None:
    """n widths and their gaps add up to the span, and the size held is as written."""
    spacing, sizes = solved(shape, run, hold, apex)
    gaps = spacing.count + (0 if apex == "closed" and run != "along" else 1)
    slats = spacing.count + swelling(run, apex)
    assert slats * spacing.width + gaps * spacing.gap == pytest.approx(span(sizes, run), abs=1e-3)
    assert (spacing.width if hold == "width" else spacing.gap) == {"width": 58.0, "gap": 6.0}[hold]


@pytest.mark.parametrize("shape", SHAPES)
@pytest.mark.parametrize("run", RUNS)
def test_bands_lie_a_gap_apart(shape: tuple[int, int], run: str) -> None:
    """Every band is a width wide and a gap from the next."""
    spacing, _ = solved(shape, run, "width", "open")
    assert [high - low for low, high in spacing.bands] == pytest.approx([spacing.width] * spacing.count)
    between = [after[0] - band[1] for band, after in zip(spacing.bands, spacing.bands[1:], strict=False)]
    assert between == pytest.approx([spacing.gap] * (spacing.count - 1))


@settings(max_examples=60)
@given(
    shape=st.sampled_from(SHAPES),
    width=st.floats(20, 120),
    gap=st.floats(3, 12),
    apex=st.sampled_from(APEXES),
    run=st.sampled_from(("across", "straight")),
)
def test_with_the_width_held_the_number_is_next_to_the_one_asked(
    shape: tuple[int, int], width: float, gap: float, apex: str, run: str
) -> None:
    """n is (span - e g) / (w + g), rounded to the nearer side unless only the other stays clear all year."""
    spacing, sizes = solved(shape, run, "width", apex, width, gap)
    length, extra = span(sizes, run), 1 if apex == "open" else 0
    beside = swelling(run, apex) * width
    wanted = (length - extra * gap - beside) / (width + gap)
    assume(abs(wanted % 1 - 0.5) > 1e-6)
    nearer = round(wanted) if round(wanted) * width + beside < length else round(wanted) - 1
    other = int(wanted) + int(wanted) + 1 - nearer
    gap_of = {n: (length - n * width - beside) / (n + extra) for n in (nearer, other) if n > 0}
    clear = [n for n, fills in gap_of.items() if is_clear(width, fills) and (n == nearer or fills <= 2 * gap)]
    assert spacing.count == (clear[0] if clear else nearer)


def is_clear(width: float, gap: float) -> bool:
    """Whether a gap of the dining table drains and catches no finger: wood of 8.586 to 18.206 %, built half way."""
    built = sum(MOISTURES) / 2
    green = 1 - 0.078 * (30 - built) / 30
    dry, wet = (gap - width * LARCH * (m - built) / 30 / green for m in MOISTURES)
    return wet >= 3 and (dry < 7 or wet > 12)


@settings(max_examples=60)
@given(shape=st.sampled_from(SHAPES), width=st.floats(35, 120), gap=st.floats(4.5, 6), run=st.sampled_from(RUNS))
def test_with_the_gap_held_the_year_picks_the_number(
    shape: tuple[int, int], width: float, gap: float, run: str
) -> None:
    """Of the widths within half of the one asked the nearest that stays clear all year is taken."""
    try:
        spacing, sizes = solved(shape, run, "gap", "open", width, gap)
    except DesignError:
        assume(False)
    length, step = span(sizes, run), 2 if run == "along" else 1
    widths = [(length - (n + 1) * gap) / n for n in range(step, 200, step)]
    near = [w for w in widths if w >= 30 and abs(w - width) <= width / 2 and is_clear(w, gap)]
    if is_clear(spacing.width, gap) and near:
        assert abs(spacing.width - width) <= min(abs(w - width) for w in near) + 0.6 * width
    assert is_clear(spacing.width, gap) or not near


@pytest.mark.parametrize("apex", APEXES)
def test_along_slats_lie_symmetric_about_the_bisector(apex: str) -> None:
    """An open apex has a gap on the bisector, a closed one a slat."""
    for shape in SHAPES:
        spacing, _ = solved(shape, "along", "width", apex)
        mirrored = [(-high, -low) for low, high in reversed(spacing.bands)]
        assert [edge for band in spacing.bands for edge in band] == pytest.approx([e for b in mirrored for e in b])
        assert any(low < 0 < high for low, high in spacing.bands) is (apex == "closed")


@settings(max_examples=80)
@given(
    shape=st.sampled_from(SHAPES),
    run=st.sampled_from(RUNS),
    hold=st.sampled_from(HOLDS),
    apex=st.sampled_from(APEXES),
    width=st.floats(10, 300),
    gap=st.floats(3, 40),
)
def test_whatever_is_asked_is_solved_or_refused(
    shape: tuple[int, int], run: str, hold: str, apex: str, width: float, gap: float
) -> None:
    """Any width and gap give positive ones that fill the span, or a refusal of the width."""
    try:
        spacing, sizes = solved(shape, run, hold, apex, width, gap)
    except DesignError as refusal:
        assert [fault.where for fault in refusal.faults] == ["slats.width"]
        return
    assert spacing.width > 0
    assert spacing.gap > 0
    assert spacing.bands[-1][1] <= span(sizes, run) + sizes.apex + 1e-6


def small(run: str, apex: str, width: float) -> tuple[Spacing, Sizes]:
    """The spacing of a small table whose fields hold hardly a slat."""
    top = {"top.rails": 3, "top.segments": 12, "top.diameter": 700.0, "top.rim_width": 126.0}
    slats = {"slats.run": run, "slats.apex": apex, "slats.width": width, "slats.gap": 6.0, "slats.hold": "width"}
    sizes = Sizes(profile_of(TIGHT | top | slats))
    return spacing_of(sizes), sizes


@pytest.mark.parametrize("run", RUNS)
@pytest.mark.parametrize("apex", APEXES)
def test_the_widest_slat_that_fits_is_told_and_fits(run: str, apex: str) -> None:
    """A refusal tells the widest slat that leaves the gaps asked for; that one is built, with just those gaps."""
    with pytest.raises(DesignError) as refused:
        small(run, apex, 300.0)
    (fault,) = refused.value.faults
    fewest = 2 if (run, apex) == ("along", "open") else 1
    assert fault.found.startswith("no 2 slats" if fewest == 2 else "no slat of")
    extra = 0 if apex == "closed" and run != "along" else 1
    _, sizes = small(run, apex, 60.0)
    widest = (span(sizes, run) - (fewest + extra) * 6.0) / (fewest + swelling(run, apex))
    told = float(fault.remedy.split(" mm or less")[0])
    assert told <= widest + 1e-9
    assert told == pytest.approx(widest, abs=0.1)
    spacing, _ = small(run, apex, told)
    assert spacing.count == fewest
    assert spacing.gap == pytest.approx(6.0, abs=0.2)


def test_one_slat_may_lie_on_the_bisector_alone() -> None:
    """A closed run along the bisector is content with one slat where no three fit."""
    spacing, sizes = small("along", "closed", 120.0)
    assert spacing.count == 1
    assert spacing.gap == pytest.approx((span(sizes, "along") - 120.0) / 2)
    assert sum(spacing.bands[0]) == pytest.approx(0.0)
