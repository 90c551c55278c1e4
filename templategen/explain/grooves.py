"""The rim's grooves: where tongues and tenons need one, with play at stopped ends, joined where they nearly meet."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from templategen.catalogue import translated, worded
from templategen.explain.book import Book
from templategen.explain.tongues import Reach
from templategen.table.profile.model import Profile

LEFT_OF_TENON, RIGHT_OF_TENON = "a rail's tenon, left of its middle", "a rail's tenon, right of its middle"


@dataclass(frozen=True, slots=True)
class Owed:
    """What the grooves follow from: tongues by field and segment, where grooves start by field and side, and how many
    fields differ."""

    tongues: Mapping[tuple[int, int], Sequence[Reach]]
    arms: Mapping[tuple[int, int], str]
    fields: int

    def left(self, arm: int) -> str | None:
        """The start of the groove on the left of an arm."""
        return self.arms.get((arm % self.fields, 1))

    def right(self, arm: int) -> str | None:
        """The same on its right: the field before it."""
        return self.arms.get(((arm - 1) % self.fields, -1))


def write_tenons(book: Book, owed: Owed) -> None:
    """The width of each rail's tenon on either side of its middle line, less the side groove where there is one."""
    for arm in range(owed.fields):
        both = (("left", LEFT_OF_TENON, owed.left(arm)), ("right", RIGHT_OF_TENON, owed.right(arm)))
        for word, says, start in both:
            name = f"tenon.{arm}.{word}"
            if start is None:
                book.add(name, says, "mm", "b", "no groove on this side")
            else:
                book.add(name, says, "mm", "b - dg", "the side groove runs through the tenon")
        sides = {"left": f"tenon.{arm}.left", "right": f"tenon.{arm}.right"}
        book.add(f"tenon.{arm}.width", "width of a rail's tenon", "mm", "left + right", **sides)
        book.add(f"tenon.{arm}.minus_right", "its right side, from the middle", "mm", "-r", r=sides["right"])
        width = f"tenon.{arm}.width"
        book.add(f"tenon.{arm}.contact", "wood to wood on both its cheeks", "mm2", "2 * w * lt", w=width)


def write_groove_rules(book: Book) -> None:
    """The play of grooves at their ends, and how near to each other they are cut as one."""
    book.add("top.half_inner_length", "half a segment's inner edge", "mm", "L / 2", L="top.inner_length")
    says = "how far past the corner a groove must run to leave a mitred end clean"
    book.add("joints.bevel", says, "mm", "dg * tan(mitre)")
    book.add("joints.join_within", "grooves nearer than this are cut as one", "mm", "3 * g + 2 * lt", g="slats.gap")


def reaches_of(book: Book, profile: Profile, owed: Owed, segment: int) -> tuple[Reach, ...]:
    """The grooves of one segment, with their play, joined where they nearly meet."""
    each = profile.top.segments // (2 * profile.top.rails)
    fields = {segment // each, (segment // each - 1) if segment % each == 0 else segment // each}
    found: list[Reach] = []
    for field in sorted(fields):
        base = field % owed.fields
        found += owed.tongues.get((base, segment - (field - base) * each), ())
    if segment % each == 0:
        arm = segment // each % owed.fields
        low, high = f"tenon.{arm}.minus_right", f"tenon.{arm}.left"
        found.append(Reach(low, high, book.value(low), book.value(high)))
    return _joined([_eased(book, reach) for reach in found], book.value("joints.join_within"))


def _eased(book: Book, reach: Reach) -> Reach:
    """With play at each stopped end; an end that then reaches the joint runs out through it."""
    play, half = book.value("joints.end_clearance"), book.value("top.half_inner_length")
    start = -half if reach.from_joint else reach.start - play
    end = half if reach.to_joint else reach.end + play
    from_joint, to_joint = reach.from_joint or start <= -half, reach.to_joint or end >= half
    return replace(reach, start=max(start, -half), end=min(end, half), from_joint=from_joint, to_joint=to_joint)


def _joined(reaches: Sequence[Reach], within: float) -> tuple[Reach, ...]:
    merged: list[Reach] = []
    for reach in sorted(reaches, key=lambda r: (r.start, r.end, r.from_joint, r.to_joint)):
        last = merged[-1] if merged else None
        if last is None or reach.start - last.end > within:
            merged.append(reach)
            continue
        later = reach if reach.end > last.end else last
        merged[-1] = replace(
            last,
            end_name=later.end_name,
            end=later.end,
            from_joint=last.from_joint or reach.from_joint,
            to_joint=last.to_joint or reach.to_joint,
        )
    return tuple(merged)


def write_rim_grooves(book: Book, code: str, reaches: Sequence[Reach]) -> None:
    """Each groove of a segment, along its inner edge from its clockwise end as the face is seen from outside."""
    half, bevel = {"h": "top.half_inner_length"}, {"bevel": "joints.bevel"}
    out = translated(": it runs out through the joint")
    for number, reach in enumerate(reaches, 1):
        name = f"part.{code}.groove_{number}"
        first = worded(
            "groove {number} begins, along the inner edge from its left end, seen from outside", number=number
        )
        last = worded(
            "groove {number} ends, along the inner edge from its left end, seen from outside", number=number
        )
        if reach.to_joint:
            book.add(f"{name}.start", first + out, "mm", "-bevel", **bevel)
        else:
            book.add(f"{name}.start", first, "mm", "h - e - ce", e=reach.end_name, **half)
        if reach.from_joint:
            book.add(f"{name}.end", last + out, "mm", "2 * h + bevel", **half, **bevel)
        else:
            book.add(f"{name}.end", last, "mm", "h - s + ce", s=reach.start_name, **half)
        both = {"end": f"{name}.end", "start": f"{name}.start"}
        book.add(f"{name}.length", worded("length of groove {number}", number=number), "mm", "end - start", **both)


def write_rail_grooves(book: Book, code: str, number: int, rails: int, owed: Owed) -> None:
    """The side grooves of rail `number`, along its edge from the edge's left end, seen from outside."""
    place = 0
    for arm in (number, number + rails):
        for side, start in ((1, owed.left(arm)), (-1, owed.right(arm))):
            if start is None:
                continue
            place += 1
            name = f"part.{code}.groove_{place}"
            says = worded("groove {number}, along its edge from the left end as seen from outside", number=place)
            first, last = (f"{says}: {translated(does)}" for does in ("it begins", "it ends"))
            if side > 0:
                book.given(f"{name}.start", first, 0.0, "mm", "it runs out through the shoulder")
                book.add(f"{name}.end", last, "mm", "a - s", s=start)
            else:
                book.add(f"{name}.start", first, "mm", "a + s", s=start)
                book.add(f"{name}.end", last, "mm", "2 * a", "it runs out through the shoulder")
            both = {"end": f"{name}.end", "start": f"{name}.start"}
            book.add(f"{name}.length", worded("length of groove {number}", number=place), "mm", "end - start", **both)
