"""Centres of mass against solids, which know no formula."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from templategen.output.packet_json import part_json
from templategen.packet.shipped import shipped_names
from templategen.parts.centroid import centre_of_mass
from templategen.parts.part import Part
from tests.table.made import table_of

pytest.importorskip("manifold3d")
from tests.solids import solid


def mesh_centre(body: Any) -> Any:
    """The centre of a solid from its surface: tetrahedra of each triangle and the origin."""
    mesh = body.to_mesh()
    a, b, c = (mesh.vert_properties[:, :3].astype(float)[mesh.tri_verts[:, k]] for k in range(3))
    sixfold = np.einsum("ij,ij->i", a, np.cross(b, c))
    return ((a + b + c) * sixfold[:, None]).sum(axis=0) / (4 * sixfold.sum())


def sharp(part: Part) -> Part:
    """The part without eased edges, which the solids leave sharp."""
    return replace(part, features=tuple(f for f in part.features if f.kind not in ("round-over", "chamfer")))


@pytest.mark.parametrize("name", shipped_names())
def test_parts_balance_where_their_solids_do(name: str) -> None:
    """Each part's centre of mass is its solid's to a twentieth of a millimetre."""
    for part in map(sharp, table_of(name=name).parts):
        centre = mesh_centre(solid(part_json(part, [])))
        assert centre_of_mass(part) == pytest.approx(tuple(centre), abs=0.05), part.code


def test_rounding_moves_a_segment_inwards() -> None:
    """A round-over takes wood from the outer edge of a segment alike above and below."""
    segment = table_of().part("RIM-A")
    rounded, plain = centre_of_mass(segment), centre_of_mass(sharp(segment))
    assert rounded.y < plain.y
    assert rounded.z == pytest.approx(plain.z, abs=0.05)
