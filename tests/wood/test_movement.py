"""Movement across the grain against figures worked by hand."""

from __future__ import annotations

import pytest

from templategen.wood.movement import across_face, change, relative_size
from templategen.wood.species import SPECIES, figures_of

SPANS = ((10, 16), (10, 20), (12, 20), (8, 20))

WORKED = {
    "white oak": (1.6, 2.6, 2.1, 3.2),
    "european oak": (1.3, 2.2, 1.8, 2.7),
    "robinia": (1.4, 2.3, 1.8, 2.8),
    "ipe": (1.2, 2.0, 1.6, 2.4),
    "european larch": (1.2, 1.9, 1.5, 2.3),
    "bald cypress": (0.9, 1.5, 1.2, 1.8),
    "iroko": (1.0, 1.7, 1.4, 2.0),
    "teak": (0.8, 1.4, 1.1, 1.7),
    "western redcedar": (0.7, 1.2, 1.0, 1.5),
}


@pytest.mark.parametrize("name", WORKED)
def test_a_board_of_70_mm(name: str) -> None:
    """A plain-sawn board 70 mm wide changes by the worked figures to half a tenth."""
    wood = SPECIES[name]
    found = [70 * change(wood.tangential, wood.fibre_saturation, a, b) for a, b in SPANS]
    assert found == pytest.approx(WORKED[name], abs=0.051)


@pytest.mark.parametrize(
    ("shrinkage", "published"),
    [(3.7, 0.00126), (7.1, 0.00248), (5.5, 0.00190), (7.8, 0.00274), (4.6, 0.00158), (7.2, 0.00252), (9.9, 0.00353)],
)
def test_published_coefficients(shrinkage: float, published: float) -> None:
    """From 10 to 11 % cherry, walnut, locust and maple change by the coefficient published beside their shrinkage."""
    assert change(shrinkage, 30, 10, 11) == pytest.approx(published, abs=5.1e-6)


def test_nothing_moves_above_saturation() -> None:
    """Green wood has its whole size, ovendry wood has lost its shrinkage, and above saturation nothing moves."""
    assert relative_size(8, 30, 30) == 1
    assert relative_size(8, 55, 30) == 1
    assert relative_size(8, 0, 30) == pytest.approx(0.92)
    assert change(8, 24, 26, 40) == 0


def test_there_and_back() -> None:
    """Wood that dries and is wetted again has its size back."""
    dried, wetted = change(7.8, 30, 16, 9), change(7.8, 30, 9, 16)
    assert dried < 0 < wetted
    assert (1 + dried) * (1 + wetted) == pytest.approx(1)


def test_how_boards_are_sawn() -> None:
    """Plain-sawn boards move tangentially across their face, quarter-sawn ones radially."""
    larch = SPECIES["european larch"]
    assert across_face(larch, "plain") == 7.8
    assert across_face(larch, "quarter") == 3.3
    assert across_face(larch, "rift") == pytest.approx(5.55)


def test_own_woods_come_first() -> None:
    """A wood of the maker's own hides the built-in one of its name."""
    assert figures_of("teak", {}).tangential == 4.7
    assert figures_of("teak", {"teak": SPECIES["ipe"]}).tangential == 8.0
