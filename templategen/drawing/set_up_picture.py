"""Pictures of a set-up, one for each way in which a piece lies in it; a function for each kind of operation."""

from collections.abc import Callable, Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from templategen.catalogue import read_as, translated, worded
from templategen.checks.describe import said
from templategen.drawing.bench_view import BenchView
from templategen.drawing.drawing import Drawing, Mark, Shape, Words
from templategen.drawing.legible import legible
from templategen.drawing.lettering import in_lines
from templategen.drawing.machine_feed import groove
from templategen.drawing.machine_holes import bore, edge_bore, end_bore, mortise
from templategen.drawing.machine_marks import CUTTER, MACHINE, MACHINE_EDGE, NAMES, as_told, named
from templategen.drawing.machine_plans import corner, saw_off, saw_round, shoulder, trench
from templategen.drawing.machine_sections import arris, drip, plane, rebate, rip, trim
from templategen.drawing.machine_straightedge import rebate_led
from templategen.drawing.move import upended
from templategen.geometry.placement import Placement
from templategen.parts.part import Part
from templategen.parts.sides import side
from templategen.shop.set_ups import words
from templategen.shop.set_ups.set_up import Cut, Lay, Operation, Setting, SetUp, Side
from templategen.units import OFF_SQUARE

DRAWN: Mapping[Operation, Callable[[BenchView], Iterator[Mark]]] = {
    "plane": plane, "rip": rip, "crosscut": saw_off, "mitre": saw_off, "lap": trench, "groove": groove,
    "spline slot": groove, "rebate": rebate, "nib": saw_off, "shoulder": shoulder, "mortise": mortise, "bore": bore,
    "drain": bore, "counterbore": bore, "drill through": bore, "cross bore": bore, "end bore": end_bore,
    "peg bore": edge_bore, "tenon bore": bore, "pin slot": bore, "relief": trench, "round corner": corner,
    "round-over": arris, "chamfer": arris, "bead": arris,
    "saw round": saw_round, "trim": trim, "drip groove": drip, "edge round-over": arris,
}  # fmt: skip

ALIKE: Mapping[Operation, tuple[str, ...]] = {
    "plane": (), "rip": (), "rebate": ("worked",), "shoulder": (), "round corner": (), "round-over": (),
    "chamfer": (), "bead": (), "edge round-over": (), "drip groove": (), "trim": (),
    "groove": ("worked", "stop_at"),
}  # fmt: skip
"""Of a lay what makes a picture of its own; where nothing is said all of it."""

STANDING: tuple[Operation, ...] = ("groove", "spline slot", "rebate")
"""Drawn with the cutter under the piece; upside down where the tool goes over it."""

Pairs = dict[tuple[Side, Side], None]
"""What is worked and what lies against, in order."""

ALL = ("worked", "up", "against", "stop_at", "swung")


LONG = 50
"""Words of more letters stand in two lines."""

LINE = 1.6
"""From line to line, in capital heights."""

IN_THE_HAND: Mapping[str, str] = {
    "fence": "guide", "fence, {lies}": "guide, {lies}", "table": "base", "table, {lies}": "base, {lies}",
    "stop": "block",
}  # fmt: skip
"""What stands for a machine's fence, table and stop where a router is moved instead of the piece; with a fence of its
own that and the stop stay."""


@dataclass(frozen=True, slots=True)
class SetUpPicture:
    """A drawing, the part in it, how that lies in words, and all lays that are drawn by this one."""

    drawing: Drawing
    code: str
    says: str
    lays: tuple[Lay, ...]


def set_up_pictures(
    set_up: SetUp,
    before: Sequence[SetUp],
    parts: Mapping[str, Part],
    shown: Callable[[Setting], str],
    holding: float = 0.0,
) -> Iterator[SetUpPicture]:
    """The pictures, in the order of the cuts; `before` are the set-ups that come first, `shown` puts figures in
    words, pieces under `holding` come off a strip. Sawn ends are drawn as on the longest piece, all else as on the
    first; what is cut off strips has pictures of its own."""
    sawn = set_up.operation in ("crosscut", "mitre")
    strips = {code for code, part in parts.items() if set_up.way == "machine" and part.size[0] < holding}
    for number, group in enumerate(_alike(set_up, parts, strips).values(), 1):
        cut, lay = max(group, key=lambda one: parts[one[1].code].size[0]) if sawn else group[0]
        view = BenchView(set_up, cut, lay, parts[lay.code], _done(set_up, cut, lay, before), shown)
        view = replace(view, off_a_strip=set_up.operation == "crosscut" and lay.code in strips)
        title = worded(
            "set-up {number}, picture {picture}: {code}", number=set_up.number, picture=number, code=lay.code
        )
        lays = tuple(one for _, one in group)
        says = _says(set_up, lay, lays, parts)
        if set_up.operation == "rebate" and words.is_along_a_straightedge(set_up):
            marks = rebate_led(view)
        else:
            marks = DRAWN[set_up.operation](view)
            marks = upended(marks) if set_up.operation in STANDING and view.is_over else marks
        bare = set_up.is_marked or (set_up.way != "machine" and set_up.operation in words.HEIGHTS)
        marks = _without_machine(marks) if bare else _in_the_hand(marks, set_up.machine)
        drawing = Drawing(title, legible(folded(marks)))
        yield SetUpPicture(drawing, lay.code, says, lays)


def folded(marks: Iterable[Mark]) -> tuple[Mark, ...]:
    """The marks with long words in two lines, all that stands under them so much lower: words as wide as two pictures
    make all of it small."""
    made = list(marks)
    for long in [mark for mark in made if isinstance(mark, Words) and len(mark.text) > LONG]:
        down = Placement(0.0, -long.height * LINE)
        first, last = _in_two(long.text)
        at = made.index(long)
        made = [mark.placed(down) if mark.box.top < long.box.bottom else mark for mark in made]
        made[at : at + 1] = [replace(long, text=first), replace(long, text=last).placed(down)]
    return tuple(made)


def _in_two(text: str) -> tuple[str, str]:
    """The words in two lines as alike in length as may be, no figure away from its unit."""
    tries = (in_lines(text, letters) for letters in range(len(text) // 2, len(text)))
    first, last = next(lines for lines in tries if len(lines) == 2)
    return first, last


def _without_machine(marks: Iterator[Mark]) -> Iterator[Mark]:
    """The marks for hand tools: the wood, its lines and sizes, without fence, table, stop, blade and block."""
    for one in marks:
        if isinstance(one, Words) and (kept := _by_hand(one.text)) != one.text:
            yield from (replace(one, text=words) for words in (kept,) if words)
        elif one.layer not in (MACHINE, MACHINE_EDGE) and not (isinstance(one, Shape) and one.layer is CUTTER):
            yield one


def _by_hand(text: str) -> str:
    """What is told of words at a machine: what lies where, and the angle of a cut, else nothing."""
    for name in NAMES:
        found = read_as(as_told(name), text.removesuffix(","))
        if found is not None and "angle" in found:
            off = read_as(translated(OFF_SQUARE), found["angle"])
            square = found["angle"] if found["angle"] == translated("square") else text
            return worded("{angle} off square", angle=off["angle"]) if off else square
        if found is not None:
            return found.get("lies", "")
    return text


def _in_the_hand(marks: Iterator[Mark], tool: str) -> Iterator[Mark]:
    """The marks, of a router in the hand with its guide and its base for what is fence and table of a machine."""
    names = ("fence", "table", "stop") if "edge guide" in tool else ("table",) if "hand router" in tool else ()
    for one in marks:
        yield replace(one, text=_of_a_router(one.text, names)) if isinstance(one, Words) else one


def _of_a_router(text: str, names: Sequence[str]) -> str:
    """What a router in the hand has instead of what is named so at a machine."""
    for name, own in IN_THE_HAND.items():
        if name.startswith(tuple(names)) and (found := read_as(as_told(name), text)) is not None:
            lies = found.get("lies", "")
            side = next((told for one in LIES if (told := read_as(translated(one), lies))), {"side": lies})
            return named(own, lies=side["side"])
    return text


LIES = ("{side} down", "{side} up")


def _alike(
    set_up: SetUp, parts: Mapping[str, Part], strips: Collection[str]
) -> dict[tuple[object, ...], list[tuple[Cut, Lay]]]:
    """The lays that one picture shows, each with its cut. Splines lie in the ring by then."""
    groups: dict[tuple[object, ...], list[tuple[Cut, Lay]]] = {}
    glued = set_up.operation in ("saw round", "drip groove", "edge round-over")
    for cut in set_up.cuts:
        for lay in cut.lays:
            if not (glued and parts[lay.code].kind == "spline"):
                key = tuple(getattr(lay, name) for name in ALIKE.get(set_up.operation, ALL))
                key += (set_up.operation == "crosscut" and lay.stop_at != "" and lay.code in strips,)
                groups.setdefault((*key, *_own(set_up, cut, parts[lay.code])), []).append((cut, lay))
    return groups


def _own(set_up: SetUp, cut: Cut, part: Part) -> tuple[object, ...]:
    """What else a picture shows: of a groove what kind of piece and which ends are set, of an edge and
    a narrow shoulder how far, of a rebate led by a straightedge how that slants."""
    if set_up.operation == "shoulder":
        return tuple(round(one.figure.value, 3) for one in cut.settings)
    if set_up.operation == "rebate":
        return tuple(round(one.figure.value, 3) for one in cut.settings if one.name == "angle")
    if set_up.operation in ("round-over", "chamfer", "bead"):
        return tuple((one.name, round(one.figure.value, 3)) for one in cut.settings)
    if set_up.operation not in ("groove", "spline slot"):
        return ()
    return part.kind == "rim-segment", *(one.name for one in cut.settings)


def _says(set_up: SetUp, shown: Lay, lays: Sequence[Lay], parts: Mapping[str, Part]) -> str:
    """How the piece lies, and what else is cut so: on it, and on those parts where that is something else."""
    if set_up.operation in words.HEIGHTS:
        return words.lies(set_up, shown, parts[shown.code].kind)
    pairs: dict[str, Pairs] = {}
    for lay in lays:
        pairs.setdefault(lay.code, {})[lay.worked, lay.against] = None
    whole = _places(pairs[shown.code], parts[shown.code].kind, shown.worked)
    more = {pair: None for pair in pairs[shown.code] if pair != (shown.worked, shown.against)}
    told = [words.lies(set_up, shown, parts[shown.code].kind)]
    likewise = _places(more, parts[shown.code].kind, shown.worked)
    told += [said("likewise {places}", places=likewise)] if more else []
    others: dict[str, list[str]] = {}
    for code, own in pairs.items():
        others.setdefault(_places(own, parts[code].kind, shown.worked), []).append(code)
    told += [f"{', '.join(codes)}: {places}" for places, codes in others.items() if places != whole]
    return "; ".join(told)


def _places(pairs: Pairs, kind: str, worked: Side) -> str:
    """What is cut, each against what; the second alone where all is cut in the face `worked` in the picture. Edges of
    one end go one after the other."""
    same, told, before = {one for one, _ in pairs} <= {worked}, "", ""
    for one, at in pairs:
        end, _, edge = at.partition("-")
        told += (translated(", then ") if edge and end == before else ", ") if told else ""
        told += side(at, kind) if same else said("{side} at the {other}", side=side(one, kind), other=side(at, kind))
        before = end
    return told


def _done(set_up: SetUp, cut: Cut, lay: Lay, before: Sequence[SetUp]) -> frozenset[Side]:
    """The edges of the piece that are sawn before it lies so: in set-ups and cuts before, in this cut, too."""
    sides: set[Side] = set()
    for one in (*before, set_up):
        if one.operation in ("crosscut", "mitre"):
            cuts = one.cuts[: one.cuts.index(cut)] if one is set_up else one.cuts
            sides.update(other.worked for own in cuts for other in own.lays if other.code == lay.code)
            if one is set_up:
                sides.update(other.worked for other in cut.lays[: cut.lays.index(lay)] if other.code == lay.code)
    return frozenset(sides)
