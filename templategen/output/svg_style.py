"""The style sheet of inline drawings: widths, ISO 128 line types, and colours for light and dark paper."""

from collections.abc import Iterator

from templategen.drawing.layer import INKS
from templategen.output.numbers import digits

PIXELS_PER_MM = 96 / 25.4
"""Pixels of a style sheet to a millimetre of paper (CSS Values and Units, absolute lengths)."""


def drawing_style() -> str:
    """The style sheet that all inline drawings of a page share; colours are variables, which a page may set anew.

    A part's groups that are given the class `lit` stand out, by colour and by heavier lines.
    """
    return "\n".join(
        (
            f":root{{{_variables(0)}}}",
            f"@media (prefers-color-scheme:dark){{:root{{{_variables(1)}}}}}",
            f"@media print{{:root{{{_variables(0)}}}}}",
            *_RULES,
            *_widths(),
            *(f".drawing .c-{name}{{--ink:var(--d-{name})}}" for name in _INKS),
            *(f".drawing .l-{name}{{--tone:var(--d-{_plain(name)})}}" for name in _TONES),
            ".drawing .l{stroke:var(--ink)}",
            ".drawing text{fill:var(--ink)}",
            ".drawing text{stroke:var(--paper,#fff)}",
            ".drawing .tone path{fill:var(--tone);stroke:var(--tone);stroke-width:.7px}",
            ".drawing .lit path{stroke:var(--d-vermilion);stroke-width:2.5px}",
            ".drawing .tone .lit path{fill:var(--d-added-middle)}",
            ".drawing .lit text{fill:var(--d-vermilion);font-weight:bold}",
        )
    )


def alone_style() -> str:
    """The style sheet of one drawing by itself on white paper, for readers that know no variables."""
    return "\n".join(
        (
            ".drawing{max-height:46rem}",
            ".drawing text{stroke:#fff}",
            *_RULES,
            *_widths(),
            *(
                f".drawing .c-{name}{{stroke:{light}}}.drawing .c-{name} text{{fill:{light}}}"
                for name, (light, _) in _INKS.items()
            ),
            *(
                f".drawing .l-{name} path{{fill:{light};stroke:{light};stroke-width:.7px}}"
                for name, (light, _) in _TONES.items()
            ),
        )
    )


def _widths() -> Iterator[str]:
    """Line widths, mm of paper, as pixels of the style sheet."""
    for width in (13, 18, 25, 35, 50, 70):
        yield f".drawing .w{width}{{stroke-width:{digits(width / 100 * PIXELS_PER_MM, 2)}px}}"
    for name, dashes in _DASHES.items():
        yield f".drawing .t-{name}{{stroke-dasharray:{dashes}}}"


_RULES = (
    ".drawing{max-width:100%;height:auto}",
    ".drawing .l{fill:none;stroke-linecap:round;stroke-linejoin:round}",
    ".drawing path{vector-effect:non-scaling-stroke}",
    ".drawing text{stroke-width:.3em;stroke-dasharray:none;paint-order:stroke}",
    ".drawing .l-CUT_NUMBER text{stroke-width:.35em;font-weight:bold}",
    ".drawing .tone path{fill-rule:evenodd}",
)
"""What holds for every drawing, whatever its colours."""


def _plain(name: str) -> str:
    return name.lower().replace("_", "-")


_ON_DARK = {"orange": "#f0b429", "sky": "#7cc7f2", "green": "#31ce9f", "yellow": "#f0e442", "blue": "#76beeb",
            "vermilion": "#ff9e6b", "purple": "#e4a3c6"}  # fmt: skip
_INKS = {"black": ("#1a1a1a", "#ececec"), **{name: (INKS[name], ink) for name, ink in _ON_DARK.items()}}
"""Palette colours as inks for light and dark paper."""

_TONES = {
    "WOOD_LIGHT": ("#f4efe4", "#4a463e"),
    "WOOD_MIDDLE": ("#e6decd", "#3d3932"),
    "WOOD_DARK": ("#d2c8b3", "#302d28"),
    "ADDED_LIGHT": ("#fbdf9f", "#7c5b14"),
    "ADDED_MIDDLE": ("#f3cc77", "#694c0f"),
    "ADDED_DARK": ("#e5b553", "#573f0b"),
    "THERE_LIGHT": ("#fafafa", "#2c2c2c"),
    "THERE_MIDDLE": ("#f1f1f1", "#272727"),
    "THERE_DARK": ("#e8e8e8", "#222222"),
    "HIGHLIGHT": ("#f3cc77", "#7c5b14"),
}
"""Tones of pictures for light and dark paper."""

_DASHES = {
    "dashed": "5 2.5",
    "long-dash-dot": "12 2.5 1 2.5",
    "long-dash-double-dot": "12 2.5 1 2.5 1 2.5",
    "dotted": "1 2.5",
}
"""ISO 128 line types, in pixels, since line widths don't grow with the picture."""


def _variables(which: int) -> str:
    colours = {**_INKS, **_TONES}
    return ";".join(f"--d-{_plain(name)}:{pair[which]}" for name, pair in colours.items())


def tone_on_white(layer: str) -> str:
    """The colour of a tone on white paper, by its layer's name."""
    return _TONES[layer][0]
