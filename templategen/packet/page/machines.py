"""Set-ups as cards in working order: a picture of each way a piece lies, what is set, for what, and what proves it.

What is said of a machine as a whole stands once, where work at it begins.
"""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from itertools import groupby
from string import ascii_uppercase

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.drawing.half_upright import end_upright, half_upright
from templategen.drawing.set_up_picture import ALIKE, SetUpPicture, set_up_pictures
from templategen.english import tag
from templategen.output.page.content import Grid, Picture, Section, Sheet
from templategen.packet.lost import or_lost
from templategen.packet.page.links import links
from templategen.packet.page.picture import picture
from templategen.shop.cautions import BY_HAND, DEFER, DUST, general, in_short, of_the_way
from templategen.shop.set_ups import words
from templategen.shop.set_ups.set_up import Cut, SetUp
from templategen.table.assembly import Table
from templategen.table.profile.choices import Units
from templategen.units import in_one_unit
from templategen.work.plan import WorkPlan

CARRIED = (
    "The groove cutter runs on a table saw whose manual allows one, the fence to its right as you push; else saw and"
    " chop to the same lines, or have these cards planned for a router table."
)
"""What carries a groove cutter, and what else would do, told where work with it begins."""

HEADINGS = ("pieces", "set for them", "picture")


def machines(table: Table, plan: WorkPlan) -> Section:
    """A card for each set-up, with its place in the plan of work, those at one machine under its cautions."""
    set_ups, places = plan.set_ups, {one.set_up: one.number for one in plan.operations}
    units = table.profile.units
    sheets: list[Sheet] = []
    for machine, own in groupby(set_ups, key=lambda one: one.machine):
        at_it = list(own)
        of_all = dict.fromkeys(line for one in at_it for line in _general(one, units))
        paths = links("lists/set-ups.csv") if not sheets else ()
        title = translated(machine)
        title = title[:1].upper() + title[1:]
        grooves = "groove cutter" in at_it[0].needs
        carried = (translated(CARRIED),) if grooves else ()
        head = carried if not any(one.words == carried for one in sheets) else ()
        sheets.append(Sheet(f"at-{at_it[0].number}", title, head, cautions=tuple(of_all), links=paths))
        sheets += (_card(one, places[str(one.number)], _drawn(one, set_ups, table), table) for one in at_it)
    return Section(
        "machines", "Set-ups", tuple(sheets), general(table.profile.shop.machines), language=tag(of_catalogue=True)
    )


def _general(set_up: SetUp, units: Units) -> Iterator[str]:
    """The cautions of how it is done, whatever its pieces are."""
    return (in_one_unit(translated(line), units) for line in of_the_way(set_up))


def _drawn(set_up: SetUp, set_ups: Sequence[SetUp], table: Table) -> Mapping[str, SetUpPicture]:
    """Its pictures by their letters; one alone has none."""
    parts, holding = {part.code: part for part in table.parts}, table.profile.shop.holding
    shown = partial(words.figure, units=table.profile.units)
    before = set_ups[: set_ups.index(set_up)]
    made = or_lost(
        f"page, pictures of set-up {set_up.number}",
        lambda: tuple(set_up_pictures(set_up, before, parts, shown, holding)),
        (),
    )
    return dict(zip(ascii_uppercase if len(made) > 1 else ("",), made, strict=False))


def _card(set_up: SetUp, place: int, pictures: Mapping[str, SetUpPicture], table: Table) -> Sheet:
    kinds, units = {part.code: part.kind for part in table.parts}, table.profile.units
    grids = []
    if words.set_of(set_up):
        rows = tuple(
            (words.name_of(set_up, one), figured(words.figure(one, units)), translated(one.says))
            for one in words.set_of(set_up)
        )
        grids.append(Grid(("mark" if set_up.is_marked else "set", "to", "which is"), rows, figures=(1,)))
    grids.append(_cuts(set_up, pictures, kinds, units))
    lines = [said("Cutter: {cutter:word}.", cutter=set_up.cutter)] if set_up.cutter else []
    lines += [said("Kerf: {side:word}.", side=set_up.kerf_side)] if set_up.kerf_side else []
    lines += [f"{told[:1].upper()}{told[1:]}." for told in map(translated, (*set_up.does, *set_up.warnings))]
    lines += [said("Jigs: {jigs}.", jigs=", ".join(set_up.jigs))] if set_up.jigs else []
    measured = words.checks(set_up, units == "in")
    proof = said("tried on {piece:word}; measured {checks}", piece=set_up.proof.test_piece, checks=measured)
    general = (*_general(set_up, units), *map(translated, (DUST, DEFER, *BY_HAND)))
    return Sheet(
        str(set_up.number),
        said("{number}. {does:word} (plan: {place})", number=set_up.number, does=set_up.operation, place=place),
        tuple(lines),
        (*_stood(set_up, table), *(_picture(set_up, letter, one) for letter, one in pictures.items())),
        tuple(grids), ticks=(proof,),
        cautions=tuple(line for line in set_up.cautions if line not in general),
        mind=said("Mind: {what}", what=translated(in_short(set_up))),
    )  # fmt: skip


def _stood(set_up: SetUp, table: Table) -> Iterator[Picture]:
    """How a half ring stands whose ends are slotted with a router."""
    if set_up.on_half:
        ident = f"set-up-{set_up.number}-half"
        yield picture(partial(half_upright, table), ident, IN_FRONT, projected=True)
        yield picture(partial(end_upright, table), f"{ident}-end", FROM_THE_SIDE, projected=True)


IN_FRONT = "the half ring as it stands, from in front of the bench"
FROM_THE_SIDE = "an end of it from the side"


def _cuts(set_up: SetUp, pictures: Mapping[str, SetUpPicture], kinds: Mapping[str, str], units: Units) -> Grid:
    """A row for each cut: what is set for it alone and the pictures that it lies as, where there is such."""
    says = tuple(_measured(set_up, kinds))
    rows = [
        (_pieces(set_up, cut, kinds), _settings(set_up, cut, units), _how(cut, pictures)) for cut in set_up.cuts
    ] + [*_filler(set_up, pictures, units)]
    kept = [0, *([1] if says else []), *([2] if len(pictures) > 1 else [])]
    heading, *cells = (tuple(row[at] for at in kept) for row in (HEADINGS, *rows))
    return Grid(heading, tuple(cells), "; ".join(says), ticks=True)


def _filler(set_up: SetUp, pictures: Mapping[str, SetUpPicture], units: Units) -> Iterator[tuple[str, str, str]]:
    """The row of what is sawn besides, at both ends, like one of the parts."""
    code, count = set_up.filler
    like = [cut for cut in set_up.cuts if code in cut.codes]
    if count:
        set_for = "; ".join(_settings(set_up, cut, units) for cut in like if cut.settings)
        how = translated(", then ").join(_how(cut, pictures) for cut in like)
        yield said("FILLER x {count}: both ends", count=count), set_for, how


def _measured(set_up: SetUp, kinds: Mapping[str, str]) -> Iterator[str]:
    """From where to where each cut's own settings are measured; where one name is measured in two ways, where either
    is."""
    found: dict[str, dict[str, dict[str, None]]] = {}
    for cut in set_up.cuts:
        at = words.where(set_up, cut, kinds) or ", ".join(cut.codes)
        for one in cut.settings:
            ways = found.setdefault(words.name_of(set_up, one), {})
            ways.setdefault(translated(one.says), {})[at] = None
    for name, ways in found.items():
        for told, places in ways.items():
            yield f"{name} ({', '.join(places)}): {told}" if len(ways) > 1 else f"{name}: {told}"


def _picture(set_up: SetUp, letter: str, shown: SetUpPicture) -> Picture:
    alike = not letter and len(set_up.codes) > 1 and set_up.operation not in ALIKE
    code = said("all, drawn on {code}", code=shown.code) if alike else shown.code
    told = ": ".join(words for words in (letter, code, shown.says) if words)
    return picture(shown.drawing, f"set-up-{set_up.number}-{letter or 'a'}", told, projected=True)


def _how(cut: Cut, pictures: Mapping[str, SetUpPicture]) -> str:
    """The pictures that its pieces lie as, one after the other; parts that lie alike are told together."""
    ways: dict[str, list[str]] = {}
    for code in cut.codes:
        lays = [lay for lay in cut.lays if lay.code == code]
        letters = dict.fromkeys(
            letter for lay in lays for letter, one in pictures.items() if any(lay is own for own in one.lays)
        )
        ways.setdefault(translated(", then ").join(letters), []).append(code)
    return "; ".join(f"{', '.join(codes)}: {way}" if len(ways) > 1 else way for way, codes in ways.items())


def _pieces(set_up: SetUp, cut: Cut, kinds: Mapping[str, str]) -> str:
    told = words.counted(set_up, (cut,), kinds)
    where = words.where(set_up, cut, kinds)
    return f"{told}: {where}" if where else told


def _settings(set_up: SetUp, cut: Cut, units: str) -> str:
    return "; ".join(f"{words.name_of(set_up, one)} {figured(words.figure(one, units))}" for one in cut.settings)
