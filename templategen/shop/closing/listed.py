"""The study as a list: a row for each way of working, then the ring's own figures."""

from collections.abc import Iterator
from math import degrees

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.shop.closing.study import ClosingStudy, Figures
from templategen.shop.listing import Cell, Listing
from templategen.units import MM_PER_INCH, format_mm, length_words

HEADER = (
    "way", "errors", "figure", "value", "unit", "by_trial", "what_it_says",
)  # fmt: skip

SCATTER = {False: "cuts scatter", True: "cuts scatter, setting off"}


def closing_list(study: ClosingStudy, units: str = "mm") -> Listing:
    """Header and rows: `value` by closed formula where there is one, `by_trial` from rings drawn at random."""
    told = (*_about(study), *_rows(study, units), *_strung(study), *_advice(study, units))
    rows: list[list[Cell]] = [[translated(str(cell)) for cell in row] for row in told]
    if units != "in":
        return list(HEADER), rows
    return [*HEADER, "value_in"], [[*row, _inches(row)] for row in rows]


def _about(study: ClosingStudy) -> Iterator[tuple[Cell, ...]]:
    ring, cuts = study.ring, 2 * study.ring.segments
    yield "", "", "mitre error", format_mm(degrees(ring.angle), 4), "°", "", "shop.mitre_error, one cut"
    yield "", "", "length error", format_mm(ring.length, 4), "mm", "", "shop.length_error, one segment"
    yield "", "", "limit", format_mm(ring.limit, 3), "mm", "", "limits.joint_gap, what glue bridges"
    scatter = degrees(ring.angle) * cuts**0.5
    says = said("{cuts} cuts that scatter add as sqrt({cuts})", cuts=cuts)
    yield "", SCATTER[False], "angle missing", format_mm(scatter, 4), "°", "", says
    says = said("a setting that is off adds on every cut, {cuts} times", cuts=cuts)
    yield "", "setting off alone", "angle missing", format_mm(degrees(ring.setting) * cuts, 4), "°", "", says


def _rows(study: ClosingStudy, units: str) -> Iterator[tuple[Cell, ...]]:
    for figures in study.figures:
        yield from _of_way(study, figures, units)


def _of_way(study: ClosingStudy, figures: Figures, units: str) -> Iterator[tuple[Cell, ...]]:
    trial = study.trial(figures.way.name, figures.setting)
    way, errors = figures.way.title, SCATTER[figures.setting]
    angle = format_mm(degrees(figures.angle), 4)
    yield way, errors, "angle missing", angle, "°", "", "one standard deviation"
    both = format_mm(figures.opening, 3), "mm", format_mm(trial.deviation, 3)
    says = said("one standard deviation; {takes_up:word}", takes_up=figures.way.takes_up)
    yield way, errors, "opening", *both, says
    if figures.way.name in ("stop", "scrap"):
        says = "one standard deviation; glued one by one, the last joint takes it all"
        yield way, errors, "opening of the last joint", format_mm(figures.last, 3), "mm", "", says
    both = format_mm(figures.p95, 3), "mm", format_mm(trial.p95, 3)
    yield way, errors, "opening in 95 of 100", *both, "every joint of 95 rings in 100 stays under it"
    both = format_mm(100 * figures.chance, 1), "%", format_mm(100 * trial.share, 1)
    limit = figured(length_words(study.ring.limit, units))
    yield way, errors, "chance", *both, said("rings of which every joint stays under {limit}", limit=limit)


def _strung(study: ClosingStudy) -> Iterator[tuple[Cell, ...]]:
    what = "all to a stop, laid corner to corner"
    for name, shares, seen in (
        (translated("last gap, inner end"), study.inner, study.strung.inner),
        (translated("last gap, outer end"), study.outer, study.strung.outer),
    ):
        row = what, SCATTER[False], name, format_mm(shares.whole, 3), "mm", format_mm(seen, 3)
        says = "one standard deviation, before the pieces slide along their joints"
        yield *row, says
        yield (
            what,
            SCATTER[False],
            said("{name}, from angles", name=name),
            format_mm(shares.from_angles, 3),
            "mm",
            "",
            "its share",
        )
        yield (
            what,
            SCATTER[False],
            said("{name}, from lengths", name=name),
            format_mm(shares.from_lengths, 3),
            "mm",
            "",
            "its share",
        )
        share = format_mm(100 * shares.angle_share, 1)
        yield what, SCATTER[False], said("{name}, angles' share", name=name), share, "%", "", "of the variance"
    step = format_mm(study.strung.step, 3)
    says = "95 rings in 100 stay under it, once drawn up: how far corners stand off each other"
    yield what, SCATTER[False], "largest step", "", "mm", step, says
    trim = format_mm(study.strung.trim, 3)
    says = "95 rings in 100 need no more off the proud end"
    yield "two halves trimmed straight", SCATTER[False], "trimmed off", "", "mm", trim, says


def _advice(study: ClosingStudy, units: str) -> Iterator[tuple[Cell, ...]]:
    chance = format_mm(100 * study.figure(study.advised.name, True).chance, 1)
    trial = format_mm(100 * study.trial(study.advised.name, True).share, 1)
    says = f"{study.reason(units)}; {translated(study.advised.does)}"
    yield study.advised.title, SCATTER[True], "advised", chance, "%", trial, says


def _inches(row: list[Cell]) -> str:
    """The value in thousandths of an inch, where it is a length."""
    value = row[3] or row[5]
    return format_mm(float(value) / float(MM_PER_INCH), 4) if row[4] == "mm" and value else ""
