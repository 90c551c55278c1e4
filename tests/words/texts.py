"""Every text of the catalogue, with where it stands: what a translator is asked for."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields
from functools import cache
from importlib import import_module
from pathlib import Path
from types import ModuleType
from typing import Any, get_args

import templategen
from templategen.catalogue import HEADS, TWO_MEANINGS
from templategen.checks.sentences import EACH, PHRASES, SENTENCES
from templategen.checks.wording import COUNTED
from templategen.cli.list import PAPERS as LISTED_PAPERS
from templategen.cli.list import PROFILES as LISTED_PROFILES
from templategen.cli.list import WOODS as LISTED_WOODS
from templategen.drawing.clamping_layers import THROUGH
from templategen.drawing.clamping_notes import FOR_SHEETS
from templategen.drawing.clamping_notes import NAMES as NAMES_OF_CUTS
from templategen.drawing.clamping_sheet import UP as FACES_UP
from templategen.drawing.cut_words import FROM_THERE, GUIDED, TO_LINES
from templategen.drawing.layer import PALETTE, Layer
from templategen.drawing.layers import FACES
from templategen.drawing.machine_marks import ASKED, NAMES
from templategen.drawing.part_views import ABOVE, BELOW
from templategen.drawing.set_up_picture import IN_THE_HAND
from templategen.drawing.stock_sheet import OF_A_BOARD
from templategen.drawing.template_words import STAGES
from templategen.drawing.title_block import FITS, MIDDLES
from templategen.drawing.tones import Manners
from templategen.drawing.work_sizes import MIDDLES as OF_WORK
from templategen.explain.contacts import CROSSES
from templategen.explain.grooves import LEFT_OF_TENON, RIGHT_OF_TENON
from templategen.explain.tongues import STARTS as STARTS_AT
from templategen.explain.words import SYMBOLS
from templategen.fit.plan import LET_DOWN
from templategen.jigs.jig import ScribeKind
from templategen.jigs.story_stick import STICKS
from templategen.jigs.trammel import TOLD
from templategen.job.planned import ASSEMBLY
from templategen.joinery.joint import JOINTS
from templategen.live.spoken import page_words, script_words
from templategen.output.pdf_book import HEADINGS as HEADINGS_OF_THE_BOOK
from templategen.output.pdf_first_pages import TOLD as TOLD_FIRST
from templategen.output.pdf_test_sheet import LINES as LINES_OF_TEST
from templategen.packet.page.glossary import WORDS as GLOSSARY
from templategen.packet.page.print_check import KINDS as KINDS_OF_FILES
from templategen.packet.page.refit import ANEW, FIRST, STILL
from templategen.packet.paper import WHOLE
from templategen.packet.trial_offcuts import TO_BE_BOUGHT
from templategen.parts.kinds import KINDS as KINDS_OF_CUTS
from templategen.parts.kinds import LineType
from templategen.parts.part import PartKind
from templategen.parts.sides import NTH, OF_A_PIECE, RIM_SIDES, SIDES
from templategen.shop.closing.listed import HEADER as CLOSING
from templategen.shop.closing.listed import SCATTER
from templategen.shop.closing.ways import WAYS as CLOSING_WAYS
from templategen.shop.cut_list import SIZES
from templategen.shop.gluing.listed import HEADER as GLUING
from templategen.shop.gluing.listed import IN_INCHES
from templategen.shop.gluing.quantities import STAYS
from templategen.shop.hardware import GLIDES
from templategen.shop.hardware import HEADER as HARDWARE
from templategen.shop.refit.listed import ABOUT
from templategen.shop.refit.listed import HEADER as REFIT
from templategen.shop.refit.sizes import SIZES as MEASURED
from templategen.shop.set_ups.choose import NOTHING
from templategen.shop.set_ups.crossings import TRENCH_SIDE
from templategen.shop.set_ups.cutters import SPACED, WIDTHS
from templategen.shop.set_ups.edges import BITS, ON_THE_FLOOR, ROUND
from templategen.shop.set_ups.grooves import BLOCKS as BLOCK_SAYS
from templategen.shop.set_ups.grooves import CUTTER_SIDE
from templategen.shop.set_ups.rebates import CUTTER_SIDE as SHOULDER_SIDE
from templategen.shop.set_ups.remarks import (
    AGAINST_THE_GRAIN,
    CARRIED,
    IN_A_TRIED_TONGUE,
    LEFT,
    ON_ITS_EDGE,
    ON_THE_CUTTER,
    ON_THE_KEPT,
    OPEN_FIRST,
    SLIVERS,
    TALLER,
    TO_THE_END,
)
from templategen.shop.set_ups.remarks import IN_THE_HAND as ON_A_ROUTER
from templategen.shop.set_ups.remarks import ON_THE_WOOD as MARKED
from templategen.shop.set_ups.rim import GROOVE_STARTS, GROOVE_STOPS, ROUND_BY, TOUCHED
from templategen.shop.set_ups.rows import AFTER, BEFORE
from templategen.shop.set_ups.run import BOUGHT as AS_THEY_COME
from templategen.shop.set_ups.run import EVERY
from templategen.shop.set_ups.set_up import SettingName
from templategen.shop.set_ups.tolerances import AT_THE_FENCE, BORED, FACE_TO_FACE, FROM_EITHER, FROM_THE_TOP
from templategen.shop.set_ups.tolerances import FIRST as FIRST_PIECE
from templategen.shop.set_ups.ways import TO_A_KNIFE_LINE, WAYS
from templategen.shop.set_ups.words import BLOCKS, ON_THE_WOOD, TO_THE_FENCE, WITH_A_GUIDE
from templategen.shop.trial_wood import ANY_WOOD
from templategen.suit.files import HEADER as PROPOSALS
from templategen.table.bounds.refusals import REFUSALS
from templategen.table.profile.choices import StockKind
from templategen.table.profile.entries import _AREA_PARTS, _FAULT_PARTS, _MARGIN_PARTS, _PAPER_SIDE
from templategen.table.profile.key import Key
from templategen.table.profile.keys import HEAD, KEYS, STOCK, WOODS
from templategen.table.rails import WORDS as WORDS_OF_RAILS
from templategen.wood.glue import GLUES
from templategen.wood.species import SPECIES
from templategen.work.closing import TURNED
from templategen.work.dry_top import DRY_TOPS, DryTop
from templategen.work.glued import HARDENS
from templategen.work.labels import PLACES, UP
from templategen.work.operation import On
from templategen.work.plan import HEADER as PLAN
from templategen.work.surfaces import ALL_OVER, INSIDE
from templategen.work.tools import HEADER as TOOLS
from templategen.work.tools import SIZED, SMALL
from tests.words.samples import LEVELS, WORDS, standing_cautions

ROOT = Path(templategen.__file__).parent

TELL = ("said", "filled", "translated", "worded", "_columns")
"""Functions whose texts are the catalogue's."""

REFUSE = {"fault_of": slice(1, 3), "tell": slice(1, 3), "_refusal": slice(2)}
"""The same that refuse, with the arguments that are texts."""


@cache
def texts() -> dict[str, str]:
    """By its English the place of each text, the first where it has several."""
    found: dict[str, str] = {}
    for place, text in (
        *_findings(),
        *_words(),
        *_refusals(),
        *standing_cautions(),
        *_jigs(),
        *_shop(),
        *_heads(),
        *_proof(),
        *_told(),
        *_pages(),
        *_live(),
        *_settings(),
        *_work(),
        *_drawings(),
        *_figures(),
    ):
        found.setdefault(text, place)
    return {text: place for text, place in found.items() if any(letter.isalpha() for letter in text)}


def other_texts() -> list[tuple[str, str]]:
    """Those that neither a finding, a refused table nor a caution says, with their places."""
    told = ("finding", "refusal", "several", "phrase", "word for", "unit", "level", "caution", "glossary")
    standing = {text for _, text in standing_cautions()}
    return [(text, place) for text, place in texts().items() if not place.startswith(told) and text not in standing]


def _findings() -> Iterator[tuple[str, str]]:
    for kind, sentence in SENTENCES.items():
        for name in ("says", "why", "do"):
            yield f"finding {kind}, {name}", getattr(sentence, name)
        if sentence.unit not in ("mm", "deg", "C", "mm2", "mm3"):
            yield f"finding {kind}, unit", sentence.unit


def _words() -> Iterator[tuple[str, str]]:
    for name, phrases in PHRASES.items():
        yield from ((f"phrase in {name}", phrase) for phrase in phrases.values())
    for name, pair in EACH.items():
        yield from ((f"several in {name}", text) for text in pair)
    for name, words in WORDS.items():
        yield from ((f"word for {name}", word) for word in words)
    yield from (("unit of one", unit.removesuffix("s")) for unit in COUNTED)
    yield from (("level", level) for level in LEVELS)
    yield from (("stock", kind) for kind in get_args(StockKind))
    yield from (("why a range is so", why) for why in dict.fromkeys(key.why for key in _keys() if key.why))
    yield from (("what a key is", f"{key.path}: {key.doc}") for key in _keys())
    yield from (("glossary", f"{word}: {means}") for word, means in GLOSSARY.items())


def _keys() -> Iterator[Key]:
    for key in (*HEAD, *KEYS.values(), *WOODS, *STOCK, *_FAULT_PARTS, *_AREA_PARTS, *_MARGIN_PARTS, _PAPER_SIDE):
        yield from (key, *key.parts)


def _refusals() -> Iterator[tuple[str, str]]:
    for kind, refusal in REFUSALS.items():
        yield from ((f"refusal {kind}, {name}", text) for name, text in refusal._asdict().items())


def _jigs() -> Iterator[tuple[str, str]]:
    """What jigs say without fields: their names, figures, use, proof and cautions, their pieces and what is noted on
    them."""
    for path in sorted((ROOT / "jigs").glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Call) and _name(node.func) == "Jig":
                yield from _of_arguments(node, JIG, path.name)
            elif isinstance(node, ast.Call) and _name(node.func) in (*FIGURES, "piece", "_piece"):
                yield from _of_arguments(
                    node, {2: "a piece"} if "piece" in _name(node.func) else {0: "a figure"}, path.name
                )
                told = node.args[FIGURES.get(_name(node.func), len(node.args)) :]
                told += [one.value for one in node.keywords if one.arg in ("how", "notes")]
                yield from (
                    (f"a jig, {path.name}", text) for one in told for text in _unfilled(one) if _has_words(text)
                )
            elif isinstance(node, ast.Call) and _name(node.func) in ("line", "point", "mark"):
                words = (text for one in node.args[1:] for text in _unfilled(one) if text not in get_args(ScribeKind))
                yield from ((f"scribed on a jig, {path.name}", text) for text in words if not text.isupper())
            elif isinstance(node, ast.Yield) and isinstance(node.value, ast.Constant):
                yield f"a jig, {path.name}", node.value.value
            elif isinstance(node, ast.Assign) and _name(node.targets[0]) in ("notes", "how", "BEFORE_USE"):
                yield from ((f"a jig, {path.name}", text) for text in _unfilled(node.value))
            elif isinstance(node, ast.Assign) and _name(node.targets[0]) == "CAUTIONS":
                yield from ((f"caution of jigs, {path.name}", text) for text in _constants(node.value))
    yield from (("a height of a cutter", one.height) for one in KINDS_OF_CUTS.values() if one.height)
    yield from (("a mark on a story stick", one.mark) for one in KINDS_OF_CUTS.values() if one.mark)
    yield from (("a mark on a story stick", one) for one in MARKS)
    yield from (("a kind of part", kind.replace("-", " ")) for kind in get_args(PartKind))
    yield from (("scribed on the trammel", words) for words in (*TOLD, "finished", "rough"))
    yield from (("whose story stick", whose) for whose in STICKS.values())


JIG = {1: "a jig", 6: "use of a jig", 7: "proof of a jig", 8: "caution of a jig"}
"""What the arguments of a jig are."""

FIGURES = {"Critical": 5, "distance": 2}
"""From which argument on the formula of a figure stands."""

MARKS = ("middle", "end", "lower end", "lap", "shoulder upper edge", "shoulder lower edge", "drain hole", "bolt hole")


def _has_words(formula: str) -> bool:
    """Whether there is more to it than keys and signs."""
    return bool(re.search(r"\b(?!(?:sin|cos|tan|sqrt|atan|deg)\b)[a-z]{3,}\b", re.sub(r"\w+\.\w+", "", formula)))


def _of_arguments(call: ast.Call, places: Mapping[int, str], file: str) -> Iterator[tuple[str, str]]:
    for at, told in places.items():
        if at < len(call.args):
            yield from ((f"{told}, {file}", text) for text in _unfilled(call.args[at]))
    named = {"use": "use of a jig", "proof": "proof of a jig"} if len(places) > 1 else {}
    for word in call.keywords:
        if word.arg in named:
            yield from ((f"{named[word.arg]}, {file}", text) for text in _unfilled(word.value))


def _unfilled(node: ast.AST) -> Iterator[str]:
    """Texts that are written out whole, none inside a call or with fields filled in."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.Tuple | ast.IfExp | ast.Starred):
        for one in ast.iter_child_nodes(node):
            yield from _unfilled(one)


def _shop() -> Iterator[tuple[str, str]]:
    """What is bought besides wood, what is glued, and what is minded there."""
    yield from (("a joint", one.name) for one in JOINTS.values() if one.name)
    yield from (("joints of a step", f"{{count:# {one.glued}}}") for one in JOINTS.values() if one.glued)
    for at in WORDS_OF_RAILS.values():
        yield from (("a part", name) for name in (f"{at} rail", f"{at} base rail"))
    yield from (
        ("a part", name) for name in ("slat {number}", "slat {number}, left hand", "slat {number}, right hand")
    )
    yield from (("a list", text) for text in (GLIDES, LET_DOWN, SMALL, *SIZED.values()))
    for way in CLOSING_WAYS:
        yield from (("how a ring is closed", text) for text in (way.title, way.does, way.takes_up))
    yield from (("how a ring is closed", text) for text in SCATTER.values())
    for place in (
        "shop/hardware.py",
        "shop/gluing/plan.py",
        "shop/gluing/advice.py",
        "shop/gluing/listed.py",
        "shop/closing/listed.py",
    ):
        for node in ast.walk(ast.parse((ROOT / place).read_text())):
            if isinstance(node, ast.Call) and _name(node.func) == "Wanted":
                yield from ((place, text) for at in (0, 2) for text in _unfilled(node.args[at]))
            elif isinstance(node, ast.Call) and _name(node.func) == "append":
                yield from ((place, text) for text in _unfilled(node.args[0]))
            elif isinstance(node, ast.Yield) and isinstance(node.value, ast.Constant | ast.Tuple):
                cells = (text for text in _unfilled(node.value) if text not in ("", "mm", "deg", "%"))
                yield from ((place, text) for text in cells)
            elif isinstance(node, ast.Assign) and _name(node.targets[0]) in ("says", "what"):
                yield from ((place, text) for text in _unfilled(node.value))


def _proof() -> Iterator[tuple[str, str]]:
    """How files are proved, and where work is measured."""
    for path in sorted((ROOT / "proof").glob("*.py")):
        ways = re.findall(r'"((?:by|against) [a-z ]+)"', path.read_text())
        yield from (("how files are proved", one) for one in ways)
    yield from (("a kind of work", kind) for kind in KINDS_OF_CUTS)
    yield from (
        ("what differs", what) for what in ("outline", "work", "hole", "edges", "knot", "fault", "offcut", "margin")
    )


def _head(name: str) -> str:
    return HEADS.get(name, name)


def _heads() -> Iterator[tuple[str, str]]:
    """The heads of lists, and the units at their ends."""
    yield from (("a list's unit", unit) for unit in ("mm", "deg", "in", "in error mm"))
    names = [
        *get_args(SettingName),
        *HARDWARE,
        *REFIT,
        *PROPOSALS,
        *GLUING,
        *IN_INCHES.values(),
        *PLAN,
        *CLOSING,
        *TOOLS,
    ]
    names += [*LISTED_PROFILES, *LISTED_WOODS, *LISTED_PAPERS]
    names += [*TOOLS, *BEFORE, *AFTER, "inches", "value_in", "mark", "step", "joint", "on", "and_on"]
    for place in ("cut_list", "buy_list", "boards"):
        for node in ast.walk(ast.parse((ROOT / f"shop/{place}.py").read_text())):
            if isinstance(node, ast.Assign | ast.AugAssign) and "header" in map(_name, ast.walk(node)):
                names += [one for one in _constants(node.value) if one != "_mm"]
    for place in ("labels", "price"):
        for node in ast.walk(ast.parse((ROOT / f"work/{place}.py").read_text())):
            if isinstance(node, ast.Return) and isinstance(node.value, ast.Tuple):
                names += _constants(node.value.elts[0])
    bare = (re.sub("[_ ](mm|deg|in|in_error_mm)$", "", name) for name in (*map(_head, names), *SIZES))
    yield from (("a list's head", name.replace("_", " ")) for name in bare)


def _told() -> Iterator[tuple[str, str]]:
    """What is told of the catalogue where it is needed: written there, or a constant of the file."""
    for path in sorted(ROOT.rglob("*.py")):
        text = path.read_text()
        if any(f"{one}(" in text or f"{one}," in text for one in (*TELL, *REFUSE)):
            place = path.relative_to(ROOT).as_posix()
            module: list[ModuleType] = []
            for node in ast.walk(ast.parse(text)):
                for text_of in _asked(node):
                    yield from ((place, one) for one in _resolved(text_of, place, module))


HEADED = {"Section": (1, 3), "Sheet": (1, 2), "Grid": (0, 2), "Fold": (0,), "picture": (2,), "Picture": (1,)}
"""What pages are made of, and which of their arguments are headings, captions and lines, told as they are shown."""

HEADINGS = ("head", "heading", "columns", "HEADINGS")


def _pages() -> Iterator[tuple[str, str]]:
    """The fixed words of the pages: in the template, and where their sheets are made."""
    template = (ROOT / "output/page/page.html.j2").read_text()
    yield from (("a list on the page", name.replace("_", " ")) for name in (*HARDWARE, *REFIT, *TOOLS))
    yield from (("the page", text) for text in (ANEW, FIRST, STILL, *KINDS_OF_FILES.values()))
    for found in re.finditer(r"""['"]([^'"]+)['"]\|translated|told\("([^"]+)"\)""", template):
        yield "the page", found[1] or found[2]
    for path in (*sorted((ROOT / "packet/page").glob("*.py")), ROOT / "suit/page.py"):
        place, module = path.relative_to(ROOT).as_posix(), []
        for node in ast.walk(ast.parse(path.read_text())):
            for shown in _shown(node):
                yield from ((place, one) for one in _resolved(shown, place, module))


def _shown(node: ast.AST) -> Iterator[ast.AST]:
    args: list[ast.AST] = []
    if isinstance(node, ast.Call) and (places := HEADED.get(_name(node.func))):
        args += [node.args[at] for at in places if at < len(node.args)]
        args += [word.value for word in node.keywords if word.arg in ("caption", "title", "heading", "words")]
    elif isinstance(node, ast.Assign) and _name(node.targets[0]) in (*HEADINGS, "caption", "words"):
        args.append(node.value)
    for one in args:
        several = one.elts if isinstance(one, ast.Tuple | ast.List) else (one,)
        yield from (text for text in several if isinstance(text, ast.Constant | ast.Name | ast.IfExp))


def _settings() -> Iterator[tuple[str, str]]:
    """What is set for an operation, and from where."""
    yield from (
        ("a setting", name)
        for name in (
            *get_args(SettingName),
            *ON_THE_WOOD.values(),
            *BLOCKS.values(),
            *TWO_MEANINGS.values(),
            "depth",
            "at",
            *WITH_A_GUIDE.values(),
        )
    )
    for path in sorted((ROOT / "shop/set_ups").glob("*.py")):
        for node, given in _scoped(path):
            if isinstance(node, ast.Call) and _name(node.func) == "setting" and len(node.args) > 2:
                for one in _whole(node.args[2], _place(path), [], given):
                    yield from ((f"a setting, {path.name}", told) for told in _ways(one))


def _ways(says: str) -> tuple[str, ...]:
    """What a setting is called at a machine, where it is marked on the wood, and on a router in the hand."""
    told = [says, says, says]
    for way, pairs in enumerate((MARKED, ON_A_ROUTER), 1):
        for of_a_machine, own in pairs:
            told[way] = told[way].replace(of_a_machine, own)
    return tuple(dict.fromkeys(told))


def _place(path: Path) -> str:
    return path.relative_to(ROOT).as_posix()


def _locals(tree: ast.AST) -> dict[str, list[ast.AST]]:
    """What is given to each name in a file, to all that are called so."""
    found: dict[str, list[ast.AST]] = {}
    for node in ast.walk(tree):
        if (
            isinstance(node, ast.Assign)
            and isinstance(node.targets[0], ast.Tuple)
            and isinstance(node.value, ast.Tuple)
        ):
            for target, value in zip(node.targets[0].elts, node.value.elts, strict=False):
                found.setdefault(_name(target), []).append(value)
        if isinstance(node, ast.Assign) and isinstance(node.targets[0], ast.Name):
            found.setdefault(node.targets[0].id, []).append(node.value)
        elif isinstance(node, ast.AugAssign) and isinstance(node.target, ast.Name):
            found.setdefault(node.target.id, []).append(node.value)
        elif isinstance(node, ast.Call) and _name(node.func) == "append" and isinstance(node.func, ast.Attribute):
            found.setdefault(_name(node.func.value), []).extend(node.args)
    return found


MADE = {
    "Operation": (0, 1, 3, 4, 5), "Job": (1, 5, 7), "Proof": (0,), "Check": (0,), "_check": (1,), "length": (2, 4),
    "sized": (2,), "alike": (1,), "level": (1,), "shouldered": (1,), "fitted": (1,), "at_end": (1,), "Passes": (0,),
    "midway": (1,), "below": (1,), "centred": (1,),
}  # fmt: skip
"""What plans of work and set-ups are made of, and which of their arguments are told in another language."""


def _work() -> Iterator[tuple[str, str]]:
    """What operations and set-ups say, and how a piece lies."""
    sides = dict.fromkeys((*SIDES.values(), *RIM_SIDES.values()))
    yield from (("a side", OF_A_PIECE.format(one)) for one in sides)
    ends = (SIDES["left"], SIDES["right"])
    yield from (
        ("a side", OF_A_PIECE.format(f"{nth} edge from below of the {end}")) for nth in NTH.values() for end in ends
    )
    yield from (("what set-ups are tried on", one) for one in (FIRST_PIECE, ANY_WOOD, TO_BE_BOUGHT, EVERY))
    yield "how boards are planed", AS_THEY_COME
    yield from (
        ("what is measured", one)
        for one in (AT_THE_FENCE, FACE_TO_FACE, FROM_EITHER, FROM_THE_TOP, *TOUCHED.values())
    )
    yield "what a step says", HARDENS
    yield "a rebate's passes", SPACED
    yield "what is measured", BORED
    yield from (("a cut", one) for one in WIDTHS)
    yield from (("a setting, rim.py", told) for told in (GROOVE_STARTS, GROOVE_STOPS))
    yield "no machine", NOTHING
    yield "all steps of the assembly together", ASSEMBLY
    yield from (
        ("what a cutter leaves", one)
        for one in (
            *LEFT.values(),
            ON_THE_CUTTER,
            OPEN_FIRST,
            CARRIED,
            TALLER,
            SLIVERS,
            TO_THE_END,
            *ON_ITS_EDGE.values(),
            ON_THE_KEPT,
            IN_A_TRIED_TONGUE,
            AGAINST_THE_GRAIN,
        )
    )
    yield from (("a setting, grooves.py", says) for says in BLOCK_SAYS.values())
    yield from (("what is sanded", one) for one in (INSIDE, ALL_OVER))
    yield from (("what cuts", one) for bit, size in (*BITS.values(), ROUND) for one in (bit, *_ways(size)))
    sides = (way for side in (CUTTER_SIDE, SHOULDER_SIDE, TRENCH_SIDE) for way in _ways(side))
    yield from (("where the kerf lies", one) for one in (*sides, ON_THE_FLOOR))
    yield from (("what cuts a ring round", one[at]) for one in ROUND_BY.values() for at in (0, 1, 4, 5))
    yield from (("what is set to a mitre's angle", one) for one in TURNED.values())
    for operation, ways in (*WAYS.items(), ("mitre", (TO_A_KNIFE_LINE,))):
        yield from ((f"how to {operation}", does) for way in ways for does in way.does)
    yield from ((f"a top that comes off, {name}", one) for dry in DRY_TOPS.values() for name, one in _fields(dry))
    yield from (("what is in hand", on) for on in get_args(On))
    yield "a side", TO_THE_FENCE
    yield from (("what may be measured", one.says) for sizes in MEASURED.values() for one in sizes)
    for path in (*sorted((ROOT / "work").glob("*.py")), *sorted((ROOT / "shop/set_ups").glob("*.py"))):
        module: list[ModuleType] = []
        for node, given in _scoped(path):
            for one in _told_by(node):
                yield from ((_place(path), text) for text in _whole(one, _place(path), module, given))


WRITTEN = {"given": (1, 4), "add": (1, 4), "write_total": (2, 5), "write_along": (2,), "_extent": (2,)}
"""By what figures are written into their book: which arguments say what they are, and where they come from."""

FIGURES_OF_THE_SHOP = ("buying_quantities.py", "gluing/quantities.py", "refit/names.py", *(
    f"set_ups/{path.name}" for path in sorted((ROOT / "shop/set_ups").glob("*.py"))
))  # fmt: skip

OF_FIGURES = (
    "radial", "tangential", "driest", "wettest", "built", "instant term", "short term", "it begins", "it ends",
    "shrinkage along a radius, green to ovendry", "shrinkage along the growth rings, green to ovendry",
    "moisture above which nothing moves", "kg/m3", "N mm", "min",
)  # fmt: skip
"""Words in figures that stand in loops and tables."""


def _figures() -> Iterator[tuple[str, str]]:
    """What figures are, where they come from, and the words of their formulas."""
    yield from (("a symbol of formulas", f"symbol {one}") for one in SYMBOLS)
    yield from (("a crossing", one) for one in CROSSES.values())
    yield from (("where a wood's or a glue's figures come from", text) for row in (*SPECIES.values(), *GLUES.values())
                for text in (row.source, row.status))  # fmt: skip
    yield from (("how long a wood lasts", one.durability) for one in SPECIES.values())
    yield from (("a wood", name) for name in SPECIES)
    yield from (("what is counted on a part", one.counted) for one in KINDS_OF_CUTS.values())
    yield from (("a case of load", one) for one in PHRASES["case"])
    yield from (("a place of load", one) for one in PHRASES["would"])
    yield from (("a figure", text) for text in (*OF_FIGURES, *STARTS_AT.values(), LEFT_OF_TENON, RIGHT_OF_TENON))
    yield from (("minutes of a glue", text) for both in STAYS.values() for text in both)
    for path in (*sorted((ROOT / "explain").glob("*.py")), *(ROOT / "shop" / one for one in FIGURES_OF_THE_SHOP)):
        module: list[ModuleType] = []
        for node, given in _scoped(path):
            for one in _of_a_figure(node):
                yield from ((_place(path), text) for text in _whole(one, _place(path), module, given))


def _of_a_figure(node: ast.AST) -> list[ast.AST]:
    """What a call that writes a figure down says of it, and the texts that it tells."""
    name = _name(node.func) if isinstance(node, ast.Call) else ""
    if not isinstance(node, ast.Call) or (name not in WRITTEN and name not in TELL):
        return []
    told = [node.args[at] for at in WRITTEN.get(name, (0,)) if at < len(node.args)]
    return told + [one.value for one in node.keywords if one.arg == "source"]


def _told_by(node: ast.AST) -> list[ast.AST]:
    """The arguments of a call that are told in another language."""
    if not isinstance(node, ast.Call):
        return []
    name = _name(node.func)
    args = [node.args[at] for at in MADE.get(name, ()) if at < len(node.args)]
    args += [word.value for word in node.keywords if word.arg == "warnings"]
    return [*args, *(node.args[:1] if name in TELL else ())]


def _scoped(path: Path) -> Iterator[tuple[ast.AST, dict[str, list[ast.AST]]]]:
    """What stands in each function of a file, with what is given to the names in it."""
    for function in ast.walk(ast.parse(path.read_text())):
        if isinstance(function, ast.FunctionDef):
            given = _locals(function)
            yield from ((node, given) for node in ast.walk(function))


def _fields(dry: DryTop) -> Iterator[tuple[str, str]]:
    for one in fields(dry):
        value = getattr(dry, one.name)
        yield from ((one.name, text) for text in ((value,) if isinstance(value, str) else value))


def _whole(node: ast.AST, place: str, module: list[ModuleType], given: Mapping[str, list[ast.AST]]) -> Iterator[str]:
    """The texts that an expression may be: none that is only a part of one."""
    inner: Iterable[ast.AST] = ()
    match node:
        case ast.Constant(value=str(text)):
            yield text
        case ast.Name(id=name) if name.isupper():
            yield from _resolved(node, place, module)
        case ast.Name(id=name):
            inner = given.get(name, ())
            given = {key: value for key, value in given.items() if key != name}
        case ast.Tuple(elts=inner) | ast.List(elts=inner) | ast.BoolOp(values=inner):
            pass
        case ast.IfExp(body=body, orelse=other):
            inner = (body, other)
        case ast.Call(func=ast.Name(id="tuple"), args=inner):
            pass
        case (
            ast.Starred(value=value)
            | ast.Subscript(value=value)
            | ast.Call(func=ast.Attribute(value=value, attr="get"))
        ):
            inner = (value,)
    for one in inner:
        yield from _whole(one, place, module, given)


DRAWN = ("drawing", "output", "packet", "router", "shop/refit", "work")
"""Rooms in which what is drawn or listed is put in words."""


def _drawings() -> Iterator[tuple[str, str]]:
    """What stands on drawings, on paper and in the list of a re-fit: texts given to a name before they are told, and
    words that stand in tables."""
    for path in sorted(one for room in DRAWN for one in (ROOT / room).glob("*.py")):
        place, module = _place(path), list[ModuleType]()
        for node, given in _scoped(path):
            if isinstance(node, ast.Call) and _name(node.func) in TELL:
                yield from ((place, text) for text in _whole(node.args[0], place, module, given))
            elif isinstance(node, ast.Call) and _name(node.func) == "named":
                names = _unfilled(node.args[0])
                yield from (("a name on a picture", ASKED.replace("{}", name)) for name in names)
        if "Layer(" in path.read_text():
            yield from ((place, layer.title) for layer in _layers(import_module(_named(place))))
    for place, several in (
        (
            "paper",
            (*TOLD_FIRST, *LINES_OF_TEST, *_key_of_lines(), *(one for both in STAGES.values() for one in both)),
        ),
        ("what holds a sheet", FOR_SHEETS),
        ("ink and line of a layer", (*PALETTE, *get_args(LineType))),
        ("a part by itself", (ABOVE, BELOW)),
        ("where work stands", (one for both in OF_WORK.values() for one in both)),
        ("a heading", ("Take care", "Cuts", "On the machine")),
        ("a view", FACES.values()),
        ("a name on a picture", (ASKED.replace("{}", name) for name in (*NAMES, *IN_THE_HAND.values()))),
        ("an edge of a board", OF_A_BOARD.values()),
        ("a heading", HEADINGS_OF_THE_BOOK.values()),
        ("which of two hands", ("left hand", "right hand")),
        ("a place of a joint", PLACES),
        ("a label", (one for both in UP.values() for one in both)),
        ("work on a part", (one.words for one in KINDS_OF_CUTS.values())),
        ("work on a part", (kind.replace("-", " ") for kind in KINDS_OF_CUTS)),
        ("work on a part", _operations()),
        ("work on a part", (*NAMES_OF_CUTS.values(), *THROUGH.values())),
        ("which face is up", FACES_UP.values()),
        ("a table drawn whole", (one for both in WHOLE.values() for one in both)),
        ("how a board is cut", (FROM_THERE, GUIDED, TO_LINES)),
        ("how mates go together", (*FITS.values(), *MIDDLES.values())),
        ("a list of a re-fit", (*ABOUT.values(), *OF_A_REFIT)),
        ("a list of a re-fit", (one.name.replace("_", " ") for sizes in MEASURED.values() for one in sizes)),
        ("a note on a part", ("grain runs across the joint",)),
        ("the table's year", ("driest", "as built", "wettest")),
    ):
        yield from ((place, text) for text in several)


OF_A_REFIT = (
    "segment", "joint", "cut", "to cut", "recut", "inner edge shorter", "outer edge shorter", "length", "left angle",
    "right angle", "slide", "gap", "step", "gap known to", "as drawn",
)  # fmt: skip


def _layers(module: ModuleType) -> Iterator[Layer]:
    """The layers that a file names."""
    for value in vars(module).values():
        tones = (value.contour, value.inner, *value.tones) if isinstance(value, Manners) else (value,)
        every = value.values() if isinstance(value, dict) else tones
        yield from (one for one in every if isinstance(one, Layer))


def _key_of_lines() -> Iterator[str]:
    """What the first page on paper says of each kind of line."""
    for node in ast.walk(ast.parse((ROOT / "output/pdf_first_pages.py").read_text())):
        if isinstance(node, ast.Yield) and isinstance(node.value, ast.Tuple):
            yield from _unfilled(node.value)


def _operations() -> Iterator[str]:
    """How work on parts is made, as its features say it."""
    for path in sorted(one for room in ("joinery", "table", "jigs") for one in (ROOT / room).glob("*.py")):
        place, module = _place(path), list[ModuleType]()
        for node, given in _scoped(path):
            at = {"Feature": 4, "eased": 3}.get(_name(node.func), 99) if isinstance(node, ast.Call) else 99
            if isinstance(node, ast.Call) and at < len(node.args):
                yield from _whole(node.args[at], place, module, given)
            elif isinstance(node, ast.Assign) and _name(node.targets[0]) == "shared":
                yield from _constants(node.value)


def _named(place: str) -> str:
    return "templategen." + place.removesuffix(".py").replace("/", ".")


def _live() -> Iterator[tuple[str, str]]:
    """What the live page says."""
    yield from (("the live page", text) for text in page_words())
    yield from (("the live page, its script", text) for text in script_words())


def _asked(node: ast.AST) -> Iterator[ast.AST]:
    """The arguments that are texts of the catalogue."""
    if not isinstance(node, ast.Call):
        return
    name = _name(node.func)
    if name in TELL:
        yield from node.args if name == "_columns" else node.args[:1]
        yield from (word.value for word in node.keywords if name != "worded" and _constant_names(word.value))
    elif name in REFUSE:
        yield from (
            one
            for one in node.args[REFUSE[name]]
            if isinstance(one, (ast.Constant, ast.IfExp, ast.Name, ast.Starred))
        )
    elif name == "map" and _name(node.args[0]) == "translated":
        yield from node.args[1:]


def _resolved(node: ast.AST, place: str, module: list[ModuleType]) -> Iterator[str]:
    """Texts in an expression, and in the constants that it names."""
    yield from _constants(node)
    for name in _constant_names(node):
        if not module:
            module.append(import_module(_named(place)))
        yield from _strings(getattr(module[0], name, ()))


def _constant_names(node: ast.AST) -> list[str]:
    names = [one.id for one in ast.walk(node) if isinstance(one, ast.Name)]
    return [name for name in names if name.isupper() and len(name) > 1]


def _constants(node: ast.AST) -> Iterator[str]:
    for one in ast.walk(node):
        if isinstance(one, ast.Constant) and isinstance(one.value, str):
            yield one.value


def _strings(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Mapping):
        yield from (one for one in value.values() if isinstance(one, str))
    elif isinstance(value, Iterable):
        yield from (one for one in value if isinstance(one, str))


def _name(node: ast.AST) -> str:
    return node.id if isinstance(node, ast.Name) else node.attr if isinstance(node, ast.Attribute) else ""
