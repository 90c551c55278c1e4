"""A maker's mark: the outline of an SVG path (SVG 1.1, 8.3) as lines and cubic curves, for page and paper alike."""

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from html import escape

from templategen.catalogue import fault_of, translated
from templategen.errors import ProfileError
from templategen.output.numbers import digits

ARGUMENTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "Q": 4, "Z": 0}
"""The commands of a path that are read, and how many numbers each takes."""

TOKEN = re.compile(r"[A-Za-z]|[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?|[^\s,]")

REMEDY = "write the d of an SVG path of M, L, H, V, C, Q and Z alone; drawing programs turn arcs and texts into such"

MARK = "the maker's mark"

Step = tuple[str, tuple[float, ...]]
"""M, L or C with absolute points, or Z."""


@dataclass(frozen=True, slots=True)
class MakerMark:
    """Steps with y growing downwards, as SVG has it, and the box round all their points: left, top, width, height."""

    steps: tuple[Step, ...]
    box: tuple[float, float, float, float]

    @property
    def svg(self) -> str:
        """The mark as an inline picture in the colour of the words."""
        view = " ".join(digits(value, 3) for value in self.box)
        path = "".join(f"{name}{' '.join(digits(value, 3) for value in at)}" for name, at in self.steps)
        return (
            f'<svg class="mark" role="img" aria-label="{escape(translated(MARK), quote=False)}" viewBox="{view}">'
            f'<path d="{path}" fill="currentColor" fill-rule="evenodd"/></svg>'
        )

    def code(self, left: float, top: float, height: float) -> str:
        """The mark `height` high as a PDF fills it (ISO 32000-1, 8.5), its upper left corner at `left` and `top`."""
        scale = height / self.box[3]

        def put(at: Sequence[float]) -> Iterator[str]:
            for x, y in zip(at[::2], at[1::2], strict=True):
                yield f"{left + (x - self.box[0]) * scale:.3f} {top - (y - self.box[1]) * scale:.3f}"

        names = {"M": "m", "L": "l", "C": "c", "Z": "h"}
        return "\n".join(" ".join((*put(at), names[name])) for name, at in self.steps) + "\nf*"


def mark_of(path: str) -> MakerMark:
    """The mark that a path draws.

    Raises:
        ProfileError: it isn't a path of the commands read here, or encloses nothing.
    """
    steps = tuple(_steps(TOKEN.findall(path)))
    xs = [value for _, at in steps for value in at[::2]]
    ys = [value for _, at in steps for value in at[1::2]]
    if not xs or max(xs) - min(xs) <= 0 or max(ys) - min(ys) <= 0:
        raise ProfileError(fault_of("maker.mark", "encloses nothing", REMEDY))
    return MakerMark(steps, (min(xs), min(ys), max(xs) - min(xs), max(ys) - min(ys)))


def _steps(tokens: Sequence[str]) -> Iterator[Step]:
    x = y = 0.0
    start, name, place = (0.0, 0.0), "", 0
    while place < len(tokens):
        if tokens[place].isalpha():
            name, place = tokens[place], place + 1
        elif name in "Zz":
            raise _unread(tokens[place])
        if not name or name.upper() not in ARGUMENTS or (place == 1 and name.upper() != "M"):
            raise _unread(name or tokens[place])
        many = ARGUMENTS[name.upper()]
        numbers = tuple(_number(tokens[n] if n < len(tokens) else "its end") for n in range(place, place + many))
        place += many
        yield (step := _step(name, numbers, (x, y)))
        x, y = step[1][-2:] if step[1] else start
        start = (x, y) if step[0] == "M" else start
        name = {"M": "L", "m": "l"}.get(name, name)


def _step(name: str, numbers: tuple[float, ...], at: tuple[float, float]) -> Step:
    """A command with absolute points; a quadratic curve as the cubic one that it is."""
    x, y = at if name.islower() else (0.0, 0.0)
    what = name.upper()
    if what == "H":
        return "L", (numbers[0] + x, at[1])
    if what == "V":
        return "L", (at[0], numbers[0] + y)
    points = tuple(value + (y if place % 2 else x) for place, value in enumerate(numbers))
    if what != "Q":
        return what, points
    (a, b), (u, v, p, q) = at, points
    return "C", ((a + 2 * u) / 3, (b + 2 * v) / 3, (p + 2 * u) / 3, (q + 2 * v) / 3, p, q)


def _number(token: str) -> float:
    try:
        return float(token)
    except ValueError:
        raise _unread(token) from None


def _unread(token: str) -> ProfileError:
    return ProfileError(fault_of("maker.mark", "{token} can't be read in a path", REMEDY, token=token[:20]))
