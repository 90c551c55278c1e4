"""Changes to a packet of all kinds, as if what wrote it were wrong: hashes and seal agree with what was changed.

`python -m tests.proof.changes [SHARE [KIND ...]]` tries 500 of them, or that share, and writes the table that
stands in DEVELOPERS.md; kinds are dxf, svg, pdf, list, page, record. Misses are told at once on standard error.
"""

from __future__ import annotations

import copy
import itertools
import json
import random
import re
import sys
import zlib
from base64 import a85decode, a85encode
from collections import Counter
from collections.abc import Callable, Collection, Iterator, Mapping
from dataclasses import dataclass
from itertools import islice
from typing import Any

from templategen.packet import stages
from templategen.packet.make import begun, make_packet
from templategen.packet.proved import MOST, list_unlike, paper_unlike
from templategen.packet.share_files import BENCH_LISTS, CUT_LISTS, JIG_FILES, PAPER
from templategen.packet.shipped import shipped_text
from templategen.packet.worked_anew import of_the_stock, of_the_table, stock_lists_of, unlike
from templategen.proof.counts import count_differences
from templategen.proof.difference import Difference
from templategen.proof.read_record import against_schema
from templategen.proof.run import measured_steps
from templategen.table.profile.read import profile_from_text

Files = dict[str, bytes]
Record = dict[str, Any]


@dataclass(frozen=True)
class Change:
    """One change: its kind, what was done, and to which file ("" for the record)."""

    kind: str
    what: str
    path: str
    data: bytes = b""
    record: Record | None = None


class Kept:
    """Files in memory, some of them only."""

    def __init__(self, files: Mapping[str, bytes]) -> None:
        self._files = files

    def read(self, path: str) -> bytes | None:
        """A file's bytes."""
        return self._files.get(path)


class Bench:
    """A packet, and what is known of it without any change."""

    def __init__(self, name: str) -> None:
        profile = profile_from_text(shipped_text(name), name)
        packet = make_packet(profile)
        self.files: Files = dict(packet.files)
        self.record: Record = json.loads(self.files.pop("packet.json"))
        self.worked = begun(profile, ("jigs", "lists", "paper"))
        self.lists = {
            **self.worked[CUT_LISTS],
            **self.worked[BENCH_LISTS],
            **stock_lists_of(self.worked, self.record),
        }
        self.paper = {**self.worked[PAPER].files, **self.worked[JIG_FILES].files}
        self.worked[stages.PLAN]
        assert not self._of_record(self.record), "the packet isn't true"

    def found(self, change: Change) -> list[Difference]:
        """What is said of the packet with one change."""
        record = change.record or self.record
        if change.record:
            said = self._of_record(record)
            return said or self._measured(self.files, record)
        whole = {**self.files, change.path: change.data}
        twins = {path: whole[path] for path in self._beside(change.path)}
        return self._measured(twins, record) or self.anew(change)

    def anew(self, change: Change) -> list[Difference]:
        """What is found only because the file is made once more."""
        if change.path in self.lists:
            return list_unlike(change.path, self.lists[change.path], change.data)
        return list(paper_unlike(change.path, self.paper.get(change.path, change.data), change.data))

    def _of_record(self, record: Record) -> list[Difference]:
        schema = against_schema(record)
        if schema:
            return [Difference("packet.json", "", schema)]
        found = list(count_differences(record))
        paper = islice(unlike("paper", self.worked[PAPER].record, record.get("paper")), MOST)
        return found or [*of_the_table(self.worked, record), *of_the_stock(self.worked, record), *paper]

    def _measured(self, files: Files, record: Record) -> list[Difference]:
        return measured_steps(Kept(files), record, Counter(), Counter())

    def _beside(self, path: str) -> set[str]:
        """The file and those it is held against."""
        name = path.rpartition("/")[2].partition(".")[0].removesuffix("-roll").removesuffix("-one-page")
        stem = path.rpartition(".")[0]
        near = {
            path,
            f"{stem}.dxf",
            f"{stem}.svg",
            *(f"drawings/{name}.dxf" for _ in path[:5:5] if path[:5] == "paper"),
        }
        return near & set(self.files)


def _pick(chance: random.Random, bench: Bench, pattern: str) -> str:
    return chance.choice(sorted(path for path in bench.files if re.fullmatch(pattern, path)))


# DXF

DXF_FILES = r"(parts|jigs|stock|drawings)/.*\.dxf"


def _entities(lines: list[str]) -> list[tuple[int, int]]:
    start = lines.index("ENTITIES") + 1
    stops = [i for i in range(start, len(lines), 2) if lines[i].strip() == "0"]
    return [(a, b) for a, b in itertools.pairwise(stops) if lines[a + 1] not in ("ENDSEC",)]


def _value(lines: list[str], first: int, last: int, codes: tuple[str, ...], chance: random.Random) -> int:
    return chance.choice([i + 1 for i in range(first, last, 2) if lines[i].strip() in codes])


def dxf_change(chance: random.Random, bench: Bench, way: str) -> Change:
    """One change to a DXF."""
    path = _pick(chance, bench, DXF_FILES)
    lines = bench.files[path].decode().split("\n")
    first, last = chance.choice(
        [e for e in _entities(lines) if lines[e[0] + 1] in ("LWPOLYLINE", "LINE", "CIRCLE", "ARC")]
    )
    text = chance.choice([e for e in _entities(lines) if lines[e[0] + 1] == "TEXT"])
    layer = next(lines[i + 1] for i in range(first, last, 2) if lines[i].strip() == "8")
    body = lines[first:last]
    if way == "vertex moved":
        i = _value(lines, first, last, ("10", "20"), chance)
        lines[i] = repr(float(lines[i]) + chance.choice((0.06, -0.06, 3.0)))
    elif way == "line moved":
        code = chance.choice((("10", "11"), ("20", "21")))
        for i in range(first, last, 2):
            if lines[i].strip() in code:
                lines[i + 1] = repr(float(lines[i + 1]) + 0.06)
    elif way == "line left out":
        del lines[first:last]
    elif way == "line doubled":
        lines[last:last] = body
    elif way == "line of another kind":
        extra = chance.choice((
            ["  0", "POINT", "  8", layer, " 10", "5.0", " 20", "5.0"],
            ["  0", "ELLIPSE", "  8", layer, " 10", "5.0", " 20", "5.0", " 11", "9.0", " 21", "0.0", " 40", "0.5"],
            ["  0", "INSERT", "  8", layer, "  2", "X", " 10", "0.0", " 20", "0.0"],
            ["  0", "SPLINE", "  8", layer, " 70", "8", " 71", "3"],
            ["  0", "SOLID", "  8", layer, " 10", "0.0", " 20", "0.0", " 11", "9.0", " 21", "9.0"],
            ["  0", "MTEXT", "  8", layer, "  1", "cut twice"],
        ))  # fmt: skip
        lines[last:last] = extra
    elif way == "mirrored by its extrusion":
        lines[last:last] = ["210", "0.0", "220", "0.0", "230", "-1.0"]
    elif way == "raised, thick or hidden":
        lines[last:last] = chance.choice(
            (["39", "5.0"], [" 60", "1"], [" 67", "1"], [" 62", "7"], [" 48", "90.0"], [" 43", "4.0"])
        )
    elif way == "unit in the header":
        i = lines.index(chance.choice(("$INSUNITS", "$MEASUREMENT"))) + 2
        lines[i] = str(chance.choice([n for n in (0, 1, 5, 6) if str(n) != lines[i].strip()]))
    elif way == "extents in the header":
        i = lines.index(chance.choice(("$EXTMIN", "$EXTMAX"))) + 2
        lines[i] = repr(float(lines[i]) + 20)
    elif way == "layer off, frozen or not printed":
        i = next(k for k in range(len(lines)) if lines[k] == layer and lines[k - 1].strip() == "2")
        k = next(k for k in range(i, i + 20) if lines[k].strip() == "62")
        code, value = chance.choice(((62, "-7"), (70, "1"), (290, "0")))
        if code == 62:
            lines[k + 1] = value
        else:
            lines[i + 1 : i + 1] = [f"{code:3}", value]
    elif way == "second section of lines":
        end = len(lines) - lines[::-1].index("EOF") - 2
        lines[end:end] = ["  0", "SECTION", "  2", "ENTITIES", *body, "  0", "ENDSEC"]
    elif way == "lines in a block":
        i = lines.index("ENDBLK")
        lines[i - 1 : i - 1] = body
    elif way == "bulge changed":
        rings = [e for e in _entities(lines) if lines[e[0] + 1] == "LWPOLYLINE"]
        first, last = chance.choice(rings)
        i = next(k for k in range(first, last) if lines[k].strip() == "20")
        lines[i + 2 : i + 2] = [" 42", "0.01"]
    elif way == "outline left open":
        rings = [e for e in _entities(lines) if lines[e[0] + 1] == "LWPOLYLINE"]
        first, last = chance.choice(rings)
        i = next(k for k in range(first, last, 2) if lines[k].strip() == "70")
        lines[i + 1] = "0"
    elif way == "words changed":
        i = next(k for k in range(text[0], text[1], 2) if lines[k].strip() == "1") + 1
        lines[i] = _other_words(lines[i], chance)
    elif way == "on another layer":
        i = next(k for k in range(first, last, 2) if lines[k].strip() == "8") + 1
        lines[i] = "TEXT" if layer != "TEXT" else "FRAME"
    elif way == "all scaled":
        factor = chance.choice((0.999, 1.001, 1.0 / 25.4))
        start = lines.index("ENTITIES")
        for i in range(start + 1, len(lines) - 1, 2):
            if lines[i].strip() in ("10", "20", "11", "21", "40"):
                lines[i + 1] = repr(float(lines[i + 1]) * factor)
    return Change(f"DXF of {path.split('/')[0]}", way, path, "\n".join(lines).encode())


def _other_words(words: str, chance: random.Random) -> str:
    places = [i for i, letter in enumerate(words) if letter.isdecimal()] or list(range(len(words)))
    i = chance.choice(places)
    other = str((int(words[i]) + 3) % 10) if words[i].isdecimal() else "X" if words[i] != "X" else "Y"
    return words[:i] + other + words[i + 1 :]


DXF_WAYS = (
    "vertex moved", "vertex moved", "line moved", "line moved", "line left out", "line doubled",
    "line of another kind", "mirrored by its extrusion", "raised, thick or hidden", "unit in the header",
    "extents in the header", "layer off, frozen or not printed", "second section of lines", "lines in a block",
    "bulge changed", "outline left open", "words changed", "on another layer", "all scaled",
)  # fmt: skip

# SVG

SVG_FILES = r"(parts|jigs|stock|drawings)/.*\.svg"


def svg_change(chance: random.Random, bench: Bench, way: str) -> Change:
    """One change to an SVG."""
    path = _pick(chance, bench, SVG_FILES)
    text = bench.files[path].decode()
    shapes = list(re.finditer(r"<(?:path|circle) [^>]*/>", text))
    shape = chance.choice(shapes)
    group = chance.choice(list(re.finditer(r'<g data-layer="([^"]*)"[^>]*>', text)))

    def put(at: int, extra: str) -> str:
        return text[:at] + extra + text[at:]

    def into(match: re.Match[str], extra: str) -> str:
        return put(match.start() + len(match[0].split(" ")[0]), f" {extra}")

    if way == "number moved":
        figure = chance.choice([m for m in re.finditer(r"-?\d+\.?\d*", shape[0]) if m.start() > 8])
        other = f"{float(figure[0]) + chance.choice((0.06, -0.06, 2)):.6f}"
        start = shape.start() + figure.start()
        text = text[:start] + other + text[start + len(figure[0]) :]
    elif way == "line left out":
        text = text[: shape.start()] + text[shape.end() :]
    elif way == "line doubled":
        text = put(shape.end(), shape[0])
    elif way == "moved by a transform":
        which = chance.choice((group, shape))
        text = into(
            which,
            chance.choice(('transform="translate(0.2 0)"', 'transform="scale(1.01)"', 'transform="scale(-1 1)"')),
        )
    elif way == "hidden by a style":
        which = chance.choice((group, shape))
        extra = (
            'style="display:none"',
            'display="none"',
            'visibility="hidden"',
            'opacity="0"',
            'class="x"',
            'clip-path="url(#c)"',
        )
        text = into(which, chance.choice(extra))
    elif way == "style sheet or script":
        extra = ("<style>path{display:none}</style>", "<script>document.documentElement.remove()</script>")
        text = put(text.index("<defs"), chance.choice(extra))
    elif way == "drawn in white or too thin":
        new = re.sub(r'stroke="#[0-9A-F]{6}"', 'stroke="#FFFFFF"', group[0])
        if chance.random() < 0.5:
            new = re.sub(r'stroke-width="[^"]*"', 'stroke-width="0"', group[0])
        text = text.replace(group[0], new, 1)
    elif way == "dashes out of sight":
        text = text.replace(
            group[0],
            re.sub(r' stroke-dasharray="[^"]*"', "", group[0]).replace(">", ' stroke-dasharray="0.01 900">'),
            1,
        )
    elif way == "box of coordinates shifted":
        head = re.search(r'viewBox="(\S+) (\S+) (\S+) (\S+)"', text)
        assert head
        text = text.replace(head[0], f'viewBox="{float(head[1]) + 8} {head[2]} {head[3]} {head[4]}"', 1)
    elif way == "page of another size":
        head = re.search(r' width="([\d.]+)mm"', text)
        assert head
        text = text.replace(head[0], f' width="{float(head[1]) * chance.choice((0.97, 1.02)):.4f}mm"', 1)
    elif way == "nested or used again":
        extra = (
            '<svg x="9" y="9"><path d="M 0 0 L 9 9"/></svg>',
            '<use href="#a" x="3"/>',
            '<image href="a.png"/>',
            '<g><path d="M 0 0 L 9 9"/></g>',
        )
        text = put(text.rindex("</svg>"), chance.choice(extra))
    elif way == "covered by white":
        text = put(
            text.rindex("</svg>"), '<rect fill="#FFFFFF" height="9000" stroke="none" width="9000" x="-900" y="-900"/>'
        )
    elif way == "on another layer":
        text = text.replace(group[0], group[0].replace(group[1], "OTHER"), 1)
    elif way == "words changed":
        words = chance.choice(list(re.finditer(r"<text [^>]*>([^<]+)</text>", text)))
        text = text[: words.start(1)] + _other_words(words[1], chance) + text[words.end(1) :]
    elif way == "entity declared":
        text = text.replace("?>", '?><!DOCTYPE svg [<!ENTITY a "b">]>', 1)
    return Change(f"SVG of {path.split('/')[0]}", way, path, text.encode())


SVG_WAYS = (
    "number moved", "number moved", "number moved", "line left out", "line doubled", "moved by a transform",
    "hidden by a style", "style sheet or script", "drawn in white or too thin", "dashes out of sight",
    "box of coordinates shifted", "page of another size", "nested or used again", "covered by white",
    "on another layer", "words changed", "entity declared",
)  # fmt: skip

# PDF

PDF_FILES = r"(paper|jigs)/.*\.pdf"
OBJECT = re.compile(rb"(\d+) 0 obj\n(.*?)endobj\n", re.DOTALL)
PACKED = re.compile(rb"(<<.*>>)\s*stream\r?\n(.*?)endstream", re.DOTALL)


def pdf_change(chance: random.Random, bench: Bench, way: str) -> Change:
    """One change to a PDF, its table of places made anew."""
    path = _pick(
        chance,
        bench,
        chance.choice(
            (PDF_FILES, r"paper/(1-test-sheet|whole-table/plan.*|whole-table/elevation.*)\.pdf", PDF_FILES)
        ),
    )
    head, objects, tail = _opened(bench.files[path])
    pages = [n for n, body in objects.items() if b"/Type /Page\n" in body or re.search(rb"/Type /Page\b", body)]
    page = chance.choice(pages)
    contents = int(re.search(rb"/Contents (\d+) 0 R", objects[page])[1])  # type: ignore[index]
    forms = [n for n, body in objects.items() if b"/Subtype /Form" in body and b"-25" not in body[:0]]
    named = re.search(rb"/FormXob\.drawing-0 (\d+) 0 R", objects[page])
    drawing = int(named[1]) if named else contents

    def with_page(old: bytes, new: bytes) -> None:
        objects[page] = objects[page].replace(old, new, 1)

    if way == "user unit":
        with_page(b"/Rotate 0", b"/UserUnit 1.02 /Rotate 0")
    elif way == "page box shifted":
        box = re.search(rb"/MediaBox \[ 0 0 (\S+) (\S+) \]", objects[page])
        assert box
        new = chance.choice(
            (b"/MediaBox [ 10 0 %b %b ]" % (box[1], box[2]), b"%b /CropBox [ 20 20 400 400 ]" % box[0])
        )
        with_page(box[0], new)
    elif way == "page turned":
        with_page(b"/Rotate 0", b"/Rotate 180")
    elif way == "layers off":
        places = [n for n, body in objects.items() if b"/OCProperties" in body or b"/ON [" in body]
        for n in places:
            objects[n] = re.sub(rb"/ON \[", b"/OFF [", objects[n], count=1)
        if not places:
            with_page(b"/Rotate 0", b"/Rotate 0 /OC 3 0 R")
    elif way == "scaled to 97 %":
        _edit(
            objects,
            contents,
            lambda ops: re.sub(
                rb"(?m)^2\.83464\d* 0 0 2\.83464\d* 0 0 cm", b"2.7496 0 0 2.7496 0 0 cm", ops, count=1
            ),
        )
    elif way == "drawing moved on its page":
        _edit(objects, contents, lambda ops: _moved_ops(ops, chance, rb"(1 0 0 1 )(\S+)( \S+ cm)", 0.4))
    elif way == "line moved":
        _edit(objects, drawing, lambda ops: _moved_ops(ops, chance, rb"(?m)(^|n )(-?[\d.]+)( -?[\d.]+ [ml])", 0.1))
    elif way == "line left out":
        _edit(objects, drawing, lambda ops: _cut_ops(ops, chance))
    elif way == "drawn in white":
        _edit(
            objects,
            drawing,
            lambda ops: (
                re.sub(rb"0 0 0 RG", b"1 1 1 RG", ops, count=1)
                if b"0 0 0 RG" in ops
                else b"1 1 1 RG 0 0 9 9 re S " + ops
            ),
        )
    elif way == "covered by white":
        _edit(objects, contents, lambda ops: ops + b"\nq 1 1 1 rg 0 0 900 900 re f Q\n")
    elif way == "picture or note added":
        with_page(b"/Rotate 0", b"/Rotate 0 /Annots [ << /Type /Annot /Subtype /Square /Rect [ 0 0 90 90 ] >> ]")
    elif way == "window narrowed":
        _edit(
            objects,
            contents,
            lambda ops: re.sub(rb"(\S+ \S+) (\S+) (\S+) re W\*? n", rb"\1 60 60 re W n", ops, count=1),
        )
    elif way == "added to afterwards":
        tail += b"\n1 0 obj\n<<>>\nendobj\ntrailer\n<< /Prev 0 >>\nstartxref\n0\n%%EOF\n"
    elif way == "form moved in the file":
        n = chance.choice(forms) if forms else page
        objects[n] = objects[n].replace(b"/Matrix [ 1 0 0 1 0 0 ]", b"/Matrix [ 1 0 0 1 2 0 ]", 1)
        if not forms:
            with_page(b"/Rotate 0", b"/Rotate 90")
    return Change(f"PDF of {_pdf_kind(path)}", way, path, _closed(head, objects, tail))


def _pdf_kind(path: str) -> str:
    if path.startswith("jigs/"):
        return "jigs"
    return (
        "the test sheet"
        if "test-sheet" in path
        else "whole drawings"
        if re.search("plan|elevation", path)
        else "templates"
    )


def _opened(data: bytes) -> tuple[bytes, dict[int, bytes], bytes]:
    objects = {int(m[1]): m[2] for m in OBJECT.finditer(data)}
    head = data[: data.index(b"1 0 obj")]
    return head, objects, data[data.rindex(b"trailer") :]


def _closed(head: bytes, objects: dict[int, bytes], tail: bytes) -> bytes:
    out, places = head, {}
    for number, body in sorted(objects.items()):
        places[number] = len(out)
        out += b"%d 0 obj\n%bendobj\n" % (number, body)
    start = len(out)
    size = max(objects) + 1
    out += b"xref\n0 %d\n0000000000 65535 f \n" % size
    out += b"".join(b"%010d 00000 n \n" % places.get(n, 0) for n in range(1, size))
    return out + re.sub(rb"startxref\n\d+", b"startxref\n%d" % start, tail, count=1)


def _edit(objects: dict[int, bytes], number: int, change: Callable[[bytes], bytes]) -> None:
    match = PACKED.search(objects[number])
    assert match
    plain = zlib.decompress(a85decode(match[2].strip().removesuffix(b"~>")) if b"ASCII85" in match[1] else match[2])
    new = change(plain)
    assert new != plain, "nothing was changed"
    packed = zlib.compress(new)
    packed = a85encode(packed) + b"~>" if b"ASCII85" in match[1] else packed
    told = re.sub(rb"/Length \d+", b"/Length %d" % len(packed), match[1])
    objects[number] = told + b"\nstream\n" + packed + b"endstream\n"


def _moved_ops(ops: bytes, chance: random.Random, pattern: bytes, by: float) -> bytes:
    found = list(re.finditer(pattern, ops))
    match = chance.choice(found)
    return ops[: match.start(2)] + b"%.4f" % (float(match[2]) + by) + ops[match.end(2) :]


STROKED = re.compile(rb"(?m)^n (?:(?:-?[\d.]+ )+(?:m|l|c|re) ?|h ?)+\s*S$")


def _cut_ops(ops: bytes, chance: random.Random) -> bytes:
    match = chance.choice(list(STROKED.finditer(ops)))
    return ops[: match.start()] + ops[match.end() :]


PDF_WAYS = (
    "user unit", "page box shifted", "page turned", "layers off", "scaled to 97 %", "drawing moved on its page",
    "line moved", "line moved", "line left out", "drawn in white", "covered by white", "picture or note added",
    "window narrowed", "added to afterwards", "form moved in the file",
)  # fmt: skip

# lists, page, record


def list_change(chance: random.Random, bench: Bench, way: str) -> Change:
    """One change to a list."""
    path = _pick(chance, bench, r"lists/.*\.(csv|toml)")
    text = bench.files[path].decode()
    rows = text.splitlines(keepends=True)
    body = [i for i in range(1, len(rows)) if re.search(r"\d", rows[i]) and not rows[i].startswith("#")]
    i = chance.choice(body) if body else 0
    if way == "figure changed":
        rows[i] = _other_words(rows[i], chance)
    elif way == "row left out":
        del rows[i]
    elif way == "row doubled":
        rows.insert(i, rows[i])
    return Change("lists", way, path, "".join(rows).encode())


LIST_WAYS = ("figure changed", "figure changed", "figure changed", "row left out", "row doubled")


def page_change(chance: random.Random, bench: Bench, way: str) -> Change:
    """One change to the page."""
    text = bench.files["index.html"].decode()
    views = list(re.finditer(r"<title[^>]*>[A-Z0-9-]+: (top face|underside|edge|end)[^<]*</title>", text))
    view = chance.choice(views)
    start, end = text.rindex("<svg", 0, view.start()), text.index("</svg>", view.start()) + 6
    drawing = text[start:end]
    if way == "view moved":
        drawing = drawing.replace("<g ", '<g transform="translate(3 0)" ', 1)
    elif way == "view left out":
        drawing = ""
    elif way == "line moved":
        layers = list(
            re.finditer(
                r'class="l l-(?:THROUGH_OUTSIDE|FACE_OUTLINE|[GLT]\w+_\d\d)[^>]*>.*?<path d="M(-?[\d.]+)',
                drawing,
            )
        )
        match = chance.choice(layers)
        drawing = drawing[: match.start(1)] + f"{float(match[1]) + 1.5:g}" + drawing[match.end(1) :]
    elif way == "script added":
        drawing += "<script>document.body.remove()</script>"
    if way == "size in the cut list":
        table = re.search(r'<article id="first-cut-list".*?</table>', text, re.DOTALL)
        assert table
        cell = chance.choice(list(re.finditer(r'class="figure">([\d.]+)', table[0])))
        new = table[0][: cell.start(1)] + _other_words(cell[1], chance) + table[0][cell.end(1) :]
        text = text.replace(table[0], new, 1)
    else:
        text = text[:start] + drawing + text[end:]
    return Change("page", way, "index.html", text.encode())


PAGE_WAYS = ("view moved", "view left out", "line moved", "line moved", "script added", "size in the cut list")

UNTOLD = ("files", "seal", "format", "profile", "templategen")
"""Shares of the record that hashes, seal and reading look after."""


def record_change(chance: random.Random, bench: Bench, way: str) -> Change:
    """One figure, word or entry of the record."""
    record = copy.deepcopy(bench.record)
    keys = [key for key in record if key not in UNTOLD and list(_leaves(record[key]))]
    key = chance.choice([*keys, "parts", "parts", "parts", "stock", "stock"])
    holder, place, where = chance.choice(list(_leaves(record[key], (key,), record, key)))
    value = holder[place]
    if way == "entry left out":
        lists = [(h, p, w) for h, p, w in _lists(record[key], (key,))]
        if lists:
            holder, place, where = chance.choice(lists)
            del holder[place]
            return Change("record", f"{way}: {where}", "", record=record)
    if isinstance(value, bool):
        holder[place] = not value
    elif isinstance(value, int | float):
        step = chance.choice((0.06, 1.0, -2.0, 50.0)) if isinstance(value, float) else chance.choice((1, 2))
        holder[place] = value + step
    else:
        holder[place] = _other_words(value, chance) if value else "X"
    return Change(
        "record", f"{'.'.join(map(str, where))}: {str(value)[:40]} to {str(holder[place])[:40]}", "", record=record
    )


RECORD_WAYS = ("figure changed",) * 9 + ("entry left out",)


def _leaves(
    value: Any, where: tuple[Any, ...] = (), holder: Any = None, place: Any = None
) -> Iterator[tuple[Any, Any, tuple[Any, ...]]]:
    if isinstance(value, dict):
        for key, inner in value.items():
            yield from _leaves(inner, (*where, key), value, key)
    elif isinstance(value, list):
        for i, inner in enumerate(value):
            yield from _leaves(inner, (*where, i), value, i)
    elif value is not None and holder is not None:
        yield holder, place, where


def _lists(value: Any, where: tuple[Any, ...]) -> Iterator[tuple[Any, Any, tuple[Any, ...]]]:
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for key, one in inner:
        if isinstance(value, list):
            yield value, key, (*where, key)
        yield from _lists(one, (*where, key))


KINDS: tuple[tuple[Callable[[random.Random, Bench, str], Change], tuple[str, ...], int], ...] = (
    (dxf_change, DXF_WAYS, 120), (svg_change, SVG_WAYS, 110), (pdf_change, PDF_WAYS, 90),
    (list_change, LIST_WAYS, 50), (page_change, PAGE_WAYS, 30), (record_change, RECORD_WAYS, 100),
)  # fmt: skip
"""How a change is made, its ways, and how many of it are tried: 500 in all."""


def changes(bench: Bench, share: float = 1.0, seed: int = 1, only: Collection[str] = ()) -> Iterator[Change]:
    """Changes of all kinds, or `only` of some, the same each time."""
    for make, ways, count in KINDS:
        if only and make.__name__.removesuffix("_change") not in only:
            continue
        for i in range(max(1, round(count * share))):
            yield make(random.Random(f"{make.__name__} {seed} {i}"), bench, ways[i % len(ways)])


def table(bench: Bench, share: float = 1.0, seed: int = 1, only: Collection[str] = ()) -> tuple[str, list[Change]]:
    """The table of what was tried and found, and what wasn't found."""
    tried: Counter[str] = Counter()
    found: Counter[str] = Counter()
    alone: Counter[str] = Counter()
    missed = []
    for change in changes(bench, share, seed, only):
        tried[change.kind] += 1
        if said := bench.found(change):
            found[change.kind] += 1
            alone[change.kind] += said == bench.anew(change)
        else:
            missed.append(change)
            print("missed:", change.kind, change.path, change.what, file=sys.stderr, flush=True)
    rows = [f"| {kind} | {tried[kind]} | {found[kind]} | {alone[kind] or ''} |" for kind in tried]
    rows.append(f"| all | {tried.total()} | {found.total()} | {alone.total()} |")
    return "\n".join(
        ("| changed | tried | found | only by making it anew |", "| --- | --- | --- | --- |", *rows)
    ), missed


if __name__ == "__main__":
    told, _ = table(Bench("towpath-side"), float(sys.argv[1]) if len(sys.argv) > 1 else 1.0, only=sys.argv[2:])
    print(told)
