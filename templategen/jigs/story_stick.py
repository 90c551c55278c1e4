"""Story sticks: every shoulder, lap, mortise and groove of rails and legs along one strip, to mark them all alike."""

from collections.abc import Iterable, Iterator, Mapping

from templategen.catalogue import figured, translated
from templategen.checks.describe import said
from templategen.geometry.outline import rectangle
from templategen.geometry.point import Point
from templategen.jigs.jig import Critical, Jig, Scribe, ScribeKind
from templategen.jigs.piece import distance, figure, line, piece, shown
from templategen.parts.feature import Feature
from templategen.parts.part import Part
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile

END = 25.0
"""Strip past the part at both ends, mm."""

SAME = 0.01
"""Marks closer than this are merged, mm."""

STICKS: Mapping[str, str] = {"rail": "the top's rails", "base-rail": "the base rails", "leg": "the legs"}
"""Whose stick it is, by the kind of part."""

HOLES: Mapping[str, str] = {"rail": "bolt hole", "base-rail": "drain hole"}
"""What goes through a hole beside the middle, by the kind of part."""

HERE = {"shoulder": "{mark:?}shoulder", "foot": "{mark:?}foot"}
"""Marks that are words with another meaning elsewhere."""

LETTERS = "stuvwxyz"
"""Of the sides of trenches: neither those of a part's own sheet nor those of joints, which are capitals."""

Marks = tuple[tuple[float, str], ...]
"""Places along a part and what stands there, from its lower end or its middle."""


def story_sticks(table: Table) -> Iterator[Jig]:
    """A stick for each set of rails that share their marks, one for the base, one for the legs."""
    groups: list[tuple[Marks, list[Part]]] = []
    for part in table.parts:
        if part.kind not in ("rail", "base-rail", "leg"):
            continue
        marks = marks_of(part)
        for known, parts in groups:
            if parts[0].kind == part.kind and _alike(known, marks):
                parts.append(part)
                break
        else:
            groups.append((marks, [part]))
    for number, (marks, parts) in enumerate(groups, 1):
        alone = sum(other[0].kind == parts[0].kind for _, other in groups) == 1
        whose = STICKS[parts[0].kind] if alone else ", ".join(part.code for part in parts)
        yield _stick(table, f"STICK-{number}", marks, parts, whose)


def marks_of(part: Part) -> Marks:
    """Every place along the part's length where some work starts or ends, and the part's ends; a middle too."""
    box = part.blank.bounds
    found = [(box.left, "end"), (box.right, "end"), *_from_features(part)]
    if part.kind != "leg":
        found.append((0.0, "middle"))
    merged: list[tuple[float, list[str]]] = []
    for place, words in sorted(found):
        if merged and place - merged[-1][0] < SAME:
            if words not in merged[-1][1]:
                merged[-1][1].append(words)
        elif box.left - SAME <= place <= box.right + SAME:
            merged.append((place, [words]))
    return tuple((place, ", ".join(words)) for place, words in merged)


def _from_features(part: Part) -> Iterator[tuple[float, str]]:
    if part.kind == "leg":
        yield from _leg_shoulders(part)
        return
    yield from _lap_shoulders(part)
    for feature in part.features:
        if feature.traits.mark:
            places = tuple(_along(part, feature))
            bored = feature.kind == "hole" and abs(sum(places)) > SAME
            for place in places:
                if feature.traits.mark != "shoulder" or not _is_at_end(part, place):
                    yield place, HOLES[part.kind] if bored else feature.traits.mark


def _is_at_end(part: Part, place: float) -> bool:
    """Whether that is an end of the part: a tenon begins at its shoulder and ends there."""
    return min(abs(place - part.blank.bounds.left), abs(place - part.blank.bounds.right)) < SAME


def _leg_shoulders(part: Part) -> Iterator[tuple[float, str]]:
    """Where the shoulders meet the leg's upper and lower edge, as its drawing lies; on a raked leg these differ."""
    half = part.blank.bounds.height / 2
    high, low = (sorted(p.x for p in part.outline.points if abs(p.y - y) < SAME) for y in (half, -half))
    for upper, lower in zip(high, low, strict=True):
        if abs(upper - lower) < SAME:
            yield upper, "shoulder"
        else:
            yield from ((upper, "shoulder upper edge"), (lower, "shoulder lower edge"))


def _lap_shoulders(part: Part) -> Iterator[tuple[float, str]]:
    """Where the sides of every trench, drawn on, meet the rail's lower and upper edge; aslant they have a letter."""
    for letter, (lower, upper) in zip(LETTERS, _lap_sides(part), strict=False):
        if abs(lower - upper) < SAME:
            yield lower, "lap"
        else:
            yield from ((lower, f"lap {letter} lower"), (upper, f"lap {letter} upper"))


def _lap_sides(part: Part) -> dict[tuple[float, float], dict[str, float]]:
    """The sides of all trenches by where they meet the lower and the upper edge, in order, with the faces that they
    are in and how deep their trench goes there."""
    low, high = part.blank.bounds.bottom, part.blank.bounds.top
    found: dict[tuple[float, float], dict[str, float]] = {}
    for lap in part.cuts("lap"):
        for edge in lap.outline.edges:
            (x, y), (over, up) = edge.start, edge.end
            if abs(up - y) > SAME:
                slope = (over - x) / (up - y)
                line = tuple((x + (to - y) * slope) * (-1 if lap.face == "bottom" else 1) for to in (low, high))
                known = (at for at in found if abs(line[0] - at[0]) < SAME and abs(line[1] - at[1]) < SAME)
                faces = found.setdefault(next(known, (line[0], line[1])), {})
                faces[lap.face] = max(lap.depth, faces.get(lap.face, 0.0))
    return dict(sorted(found.items()))


def trench_letters(part: Part, face: str, depth: float) -> tuple[tuple[str, ...], ...]:
    """The letters of both sides of each trench of that depth, mm, in that face; none where they stand square."""
    found: dict[float, tuple[str, ...]] = {}
    for letter, ((lower, upper), faces) in zip(LETTERS, _lap_sides(part).items(), strict=False):
        if abs(lower - upper) >= SAME and abs(faces.get(face, 0.0) - depth) < SAME:
            lean = round(upper - lower, 3)
            found[lean] = (*found.get(lean, ()), letter)
    return tuple(found.values())


def _in_faces(part: Part, profile: Profile) -> str:
    """Which lettered trench sides are in which face of a rail, and how deep: `RAIL-MID: s, u in the top, 12.67 mm
    deep, t, v in the underside, 12.67 mm deep`."""
    lettered = zip(LETTERS, _lap_sides(part).items(), strict=False)
    sides = [(letter, faces) for letter, ((lower, upper), faces) in lettered if abs(lower - upper) >= SAME]
    told = []
    for face in ("top", "bottom"):
        deep: dict[float, list[str]] = {}
        for letter, faces in sides:
            if face in faces:
                deep.setdefault(round(faces[face], 6), []).append(letter)
        told += [
            said(
                "{letters} in the top, {deep} deep" if face == "top" else "{letters} in the underside, {deep} deep",
                letters=", ".join(letters),
                deep=figured(shown(depth, profile)),
            )
            for depth, letters in deep.items()
        ]
    return f"{part.code}: {', '.join(told)}"


def _along(part: Part, feature: Feature) -> Iterable[float]:
    """Where a feature starts and ends along x."""
    box = feature.outline.bounds
    if feature.face == "top":
        return (box.left, box.right)
    if feature.face == "bottom":
        return (-box.right, -box.left)
    return tuple(part.face(feature.face).point(u, 0).x for u in (box.left, box.right))


def _alike(one: Marks, other: Marks) -> bool:
    return len(one) == len(other) and all(
        abs(a - b) < SAME and words == others for (a, words), (b, others) in zip(one, other, strict=True)
    )


def _stick(table: Table, code: str, marks: Marks, parts: list[Part], word: str) -> Jig:
    profile, first = table.profile, parts[0]
    codes = tuple(part.code for part in parts)
    left, right = marks[0][0], marks[-1][0]
    high = profile.jigs.strip
    name, notes = said("story stick for {word:word}", word=word), (said("for {codes:all}", codes=codes),)
    strip = piece(profile, code, name, rectangle(left - END, 0, right + END, high), "gauge", notes=notes)
    leg = first.kind == "leg"
    origin = left if leg else 0.0
    return Jig(
        code,
        said("story stick, {codes:all}", codes=codes),
        codes,
        (strip,),
        tuple(_scribes(code, marks, origin, high, table)),
        tuple(_figures(code, marks, origin, translated("lower end" if leg else "middle"))),
        (
            "Lay the stick along the part that its name tells, its two end lines at the part's ends, and clamp both.",
            ("Prick each line with a knife at the edge it names; what names none is carried across with a square "
            "from the face side. Figures count from the middle, a leg's from its lower end."),
            *((("Laps: join s to s, t to t with a straightedge, from the mark on the lower edge to that on the "
            "upper. These shoulders stand aslant; where two cross, the waste lies as the part's sheet shows it."),
               said("Which are a trench: {faces}.", faces="; ".join(_in_faces(part, profile) for part in parts)))
              if any("lap s" in words for _, words in marks) else ()),
            ("Mark all parts from the one stick in one go. Other widths stand on the parts' own sheets; a depth is "
            "of wood as thick as drawn: a card that reckons it from measured wood goes first."),
        ),
        (
            said("The stick for {word:word} measures {long} from end line to end line. Turned end for end, the marks "
                 "of a part that is the same both ways fall on each other.",
                 word=word, long=shown(right - left, profile)),
        ),
        ("A marking knife cuts fingers as well as fibres: the hand that holds the square stays behind the blade.",),
    )  # fmt: skip


def _scribes(code: str, marks: Marks, origin: float, high: float, table: Table) -> Iterator[Scribe]:
    for place, words in marks:
        size = figure(abs(place - origin), table.profile)
        kind: ScribeKind = "witness" if words == "middle" else "scale"
        told_here = _told(words) if abs(place - origin) < SAME else f"{_told(words)} {size}"
        yield line(code, Point(place, 0), Point(place, high), told_here, kind)


def _told(words: str) -> str:
    """What stands at a mark, each thing by itself."""
    return ", ".join(map(_of_one, words.split(", ")))


def _of_one(word: str) -> str:
    """What one thing at a mark is called; a slanting lap's edges have a letter."""
    if not word.startswith("lap "):
        return said(HERE.get(word, word), mark=True)
    _, letter, edge = word.split()
    is_lower = edge == "lower"
    return said("lap {letter} lower" if is_lower else "lap {letter} upper", letter=letter)


def _figures(code: str, marks: Marks, origin: float, whence: str) -> Iterator[Critical]:
    for place, words in marks:
        if place > origin + SAME:
            yield distance(
                said("{whence} to {words}", whence=whence, words=_told(words)),
                code,
                Point(origin, 0),
                Point(place, 0),
            )
    ends = Point(marks[0][0], 0), Point(marks[-1][0], 0)
    yield distance("end to end", code, *ends, "the part's own length")
