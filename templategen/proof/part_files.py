"""A part's DXF and SVG measure what the record says of every face of the part, and agree with each other."""

from collections import Counter
from collections.abc import Callable, Iterator, Mapping

from templategen.catalogue import translated, worded
from templategen.errors import OutputError
from templategen.geometry.outline import Outline
from templategen.geometry.placement import Placement
from templategen.geometry.point import Point
from templategen.proof.difference import Difference
from templategen.proof.drawn import Drawn, Word
from templategen.proof.faces import WOOD, Site, see, strays, title_of
from templategen.proof.outlines import TRUE, apart, describe_miss, mark_key, unmatched, worst_off
from templategen.proof.read_dxf import SQUARE_LAYER, SQUARE_SIDE, read_dxf
from templategen.proof.read_svg import read_svg
from templategen.proof.recorded import TOP, Recorded

READERS: dict[str, Callable[[bytes], Drawn]] = {"dxf": read_dxf, "svg": read_svg}

BLANK, TITLES = "BLANK_OUTLINE", "VIEW_TITLE"

IN_LINE = 0.01
"""A title stands so exactly over the left side of its view, mm."""

IN_PLACE = 0.01
"""Words of two files that are the same agree to so much, mm and degrees."""

SHORT_OF_LONG = 200
"""A DXF carries so many letters of a line at the least."""

Files = Mapping[str, bytes]
Measured = Counter[tuple[str, str]]


def part_differences(part: Recorded, files: Files, measured: Measured) -> Iterator[Difference]:
    """Where the drawings of one part miss it."""
    read, unread = all_drawn(files, part.code)
    yield from unread
    for path, drawn in read.items():
        yield from square(path, drawn)
        for where, says in _sheet(part, drawn, measured):
            yield Difference(path, f"{part.code}, {where}", says)
    yield from pair_differences(read)


def whole_differences(files: Files) -> Iterator[Difference]:
    """Where drawings of the whole table can't be read, or differ between their formats."""
    read, unread = all_drawn(files, "")
    yield from unread
    for path, drawn in read.items():
        yield from square(path, drawn)
    yield from pair_differences(read)


def all_drawn(files: Files, where: str) -> tuple[dict[str, Drawn], list[Difference]]:
    """The lines of each file, and which files can't be read or hold a line twice."""
    read: dict[str, Drawn] = {}
    unread: list[Difference] = []
    for path, data in files.items():
        try:
            read[path] = READERS[path.rpartition(".")[2]](data)
            unread += _doubles(path, read[path])
        except OutputError as trouble:
            unread.append(Difference(path, where, str(trouble)))
    return read, unread


def square(path: str, drawn: Drawn) -> Iterator[Difference]:
    """The test square, where there is one, measures what it says."""
    for ring in drawn.rings.get(SQUARE_LAYER, ()):
        box = ring.bounds
        if max(abs(box.width - SQUARE_SIDE), abs(box.height - SQUARE_SIDE)) > TRUE:
            yield Difference(
                path,
                translated("test square"),
                worded("measures {width:.3f} x {height:.3f} mm, not 100 x 100", width=box.width, height=box.height),
            )


def _sheet(part: Recorded, drawn: Drawn, measured: Measured) -> Iterator[tuple[str, str]]:
    """Every face: the top at the part's own coordinates, each other one under its title."""
    faces = [see(Site(part, TOP, Point(0.0, 0.0)), drawn)]
    for face in part.worked:
        if face != TOP:
            site = _titled(part, face, drawn)
            if site is None:
                yield face, translated("no view under its name shows the face as the record has it")
            else:
                faces.append(see(site, drawn))
    for seen in faces:
        yield from seen.misses
        measured.update(seen.measured)
    yield from _blank(part, drawn)
    yield from strays(drawn, faces)


def _titled(part: Recorded, face: str, drawn: Drawn) -> Site | None:
    """Where the view of a face stands: an outline like it with the face's name as the nearest title over it."""
    name = title_of(part, face)
    views = (at for at, ring in alike(part.wood(face), drawn, WOOD) if _has_title(ring, name, drawn))
    return next((Site(part, face, at) for at in views), None)


def _has_title(ring: Outline, name: str, drawn: Drawn) -> bool:
    """Whether the nearest title over an outline, in line with its left side, is the name."""
    box = ring.bounds
    over = [w for w in drawn.words.get(TITLES, ()) if abs(w.at.x - box.left) < IN_LINE and w.at.y > box.top]
    title = min(over, key=lambda word: word.at.y, default=None)
    return title is not None and title.text == name


def alike(wanted: Outline | None, drawn: Drawn, layer: str) -> Iterator[tuple[Point, Outline]]:
    """Outlines of a layer that are the one wanted, moved; with the way they are moved."""
    if wanted is None:
        return
    for ring in drawn.rings.get(layer, ()):
        box, own = ring.bounds, wanted.bounds
        if max(abs(box.width - own.width), abs(box.height - own.height)) <= TRUE:
            at = Point(box.left - own.left, box.bottom - own.bottom)
            if apart(Placement(*at).outline(wanted), ring)[0] <= TRUE:
                yield at, ring


def _blank(part: Recorded, drawn: Drawn) -> Iterator[tuple[str, str]]:
    """The blank has a view where it is more than the finished outline; no other outline is called so."""
    rings = drawn.rings.get(BLANK, ())
    if len(rings) > 1 or (not rings and apart(part.blank, part.outline)[0] > TRUE):
        yield translated("blank"), worded("is drawn {rings} times", rings=len(rings))
    elif rings and not any(
        _has_title(ring, translated("blank"), drawn) for _, ring in alike(part.blank, drawn, BLANK)
    ):
        yield translated("blank"), translated("no view under its name shows it as the record has it")


def _doubles(path: str, drawn: Drawn) -> Iterator[Difference]:
    """Lines and outlines that stand twice on a layer: a machine would cut them twice."""
    for layer in drawn.layers:
        marks = [(edge,) for edge in drawn.strokes.get(layer, ())] + [
            ring.edges for ring in drawn.rings.get(layer, ())
        ]
        if len({mark_key(mark) for mark in marks}) < len(marks):
            yield Difference(path, layer, translated("a line stands twice"))


def pair_differences(read: Mapping[str, Drawn]) -> Iterator[Difference]:
    """A DXF and the SVG of the same drawing hold the same lines and words."""
    for path, drawn in read.items():
        twin = path[:-3] + "svg"
        if path.endswith(".dxf") and twin in read:
            for layer in dict.fromkeys((*drawn.layers, *read[twin].layers)):
                for one, other, name in ((drawn, read[twin], path), (read[twin], drawn, twin)):
                    off, at = worst_off(unmatched(one, other, layer), other.edges([layer]))
                    if off > TRUE:
                        yield Difference(
                            name,
                            layer,
                            worded("a line that its twin doesn't have {miss}", miss=describe_miss(off, at)),
                        )
                    yield from _words(name, layer, one, other)


def _words(name: str, layer: str, one: Drawn, other: Drawn) -> Iterator[Difference]:
    """Words that the other file hasn't got there; what is too long for a DXF it has to that length."""
    rest = list(other.words.get(layer, ()))
    for word in one.words.get(layer, ()):
        match = next((there for there in rest if _same_words(word, there)), None)
        if match is None:
            yield Difference(
                name, layer, worded('words that its twin doesn\'t have there: "{text}"', text=word.text[:60])
            )
        else:
            rest.remove(match)


def _in_dxf(text: str) -> int:
    """Characters that a text takes in a DXF, where letters beyond ASCII may stand as \\U+XXXX."""
    return sum(1 if ord(letter) < 128 else 7 for letter in text)


def _same_words(one: Word, other: Word) -> bool:
    length = min(len(one.text), len(other.text))
    return (
        one.text[:length] == other.text[:length]
        and (len(one.text) == len(other.text) or _in_dxf(one.text[:length]) >= SHORT_OF_LONG)
        and one.at.distance(other.at) < IN_PLACE
        and abs(one.height - other.height) < IN_PLACE
        and one.anchor == other.anchor
        and abs((one.turn - other.turn + 180.0) % 360.0 - 180.0) < IN_PLACE
    )
