"""The built-in table of woods."""

from __future__ import annotations

import pytest

from templategen.wood.species import SHEET_WOOD, SPECIES, plain_name


def test_names_are_plain() -> None:
    """Every wood is found under its plain name, in any letters and spacing."""
    assert all(plain_name(f"  {name.upper()} ") == name == row.name for name, row in SPECIES.items())
    assert SHEET_WOOD in SPECIES


def test_figures_are_those_of_wood() -> None:
    """A solid wood shrinks more along its rings than along a radius, and all figures are of wood."""
    for row in SPECIES.values():
        assert 0 < row.radial < row.tangential < 13 or row.status == "assumed"
        assert 22 <= row.fibre_saturation <= 31
        assert 300 < row.density < 1300
        assert 5 < row.stiffness < 25
        assert row.durability and row.source and row.status in ("read", "recalled", "assumed")


@pytest.mark.parametrize(
    ("name", "radial", "tangential"),
    [
        ("white oak", 0.00194, 0.00376),
        ("western redcedar", 0.00081, 0.00172),
        ("european larch", 0.00112, 0.00274),
        ("black cherry", 0.00126, 0.00248),
        ("sugar maple", 0.00165, 0.00353),
        ("ipe", 0.00230, 0.00282),
        ("acetylated pine", 0.00023, 0.00051),
    ],
)
def test_published_coefficients(name: str, radial: float, tangential: float) -> None:
    """Shrinkage and the published change per 1 % moisture are one figure: C = S / (3000 - 20 S)."""
    row = SPECIES[name]
    assert row.radial / (3000 - 20 * row.radial) == pytest.approx(radial, abs=6e-6)
    assert row.tangential / (3000 - 20 * row.tangential) == pytest.approx(tangential, abs=6e-6)
