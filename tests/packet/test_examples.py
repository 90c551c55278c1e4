"""output_examples holds what the tool makes today."""

from __future__ import annotations

from fnmatch import fnmatchcase

import pytest

from tests.examples import FOLDER, NAME, REMAKE, SHOWN, changes, kept, shown
from tests.shipped_packets import packet_files


@pytest.mark.wide
def test_what_is_shown_is_what_is_made() -> None:
    """A fresh packet of the dining table equals the one shown; else each change is told by what it is."""
    told = changes(kept(), shown(packet_files(NAME)))
    assert not told, f"{FOLDER.name} is made otherwise; if that is meant, run {REMAKE}:\n" + "\n".join(told)


@pytest.mark.parametrize("wanted", SHOWN)
def test_something_of_every_kind_is_shown(wanted: str) -> None:
    """No pattern is left without a file."""
    assert any(fnmatchcase(path, wanted) for path in kept())


@pytest.mark.parametrize(
    ("path", "old", "new", "says"),
    [
        ("lists/cut-list.csv", b"84.00", b"84.01", "width_mm: was '84.00', is '84.01'"),
        ("packet.json", b'"diameter": 1340.0', b'"diameter": 1340.1', "table.diameter: was 1340.0, is 1340.1"),
        ("parts/RIM-A.dxf", b"THROUGH_OUTSIDE\n100", b"THROUGH_INSIDE\n100", "gone from THROUGH_OUTSIDE"),
        ("drawings/plan.svg", b"</svg>", b"<g/></svg>", "is "),
    ],
)
def test_a_change_is_told_in_the_terms_of_its_kind(path: str, old: bytes, new: bytes, says: str) -> None:
    """One figure, one layer, one line."""
    was = kept()[path]
    assert old in was
    found = changes({path: was}, {path: was.replace(old, new, 1)})
    assert found and any(says in one for one in found), found
    assert all(one.startswith(f"{path}: ") for one in found)


def test_a_page_that_looks_otherwise_is_told_by_its_place() -> None:
    """Two sheets of paper unlike each other; the same sheet is no change, whatever its bytes."""
    one, other = (kept()[path] for path in ("paper/1-test-sheet.pdf", "paper/one-by-one/SPLINE.pdf"))
    assert any("page 1" in told for told in changes({"a.pdf": one}, {"a.pdf": other}))
    assert changes({"a.pdf": one}, {"a.pdf": one + b"\n%\n"}) == []
