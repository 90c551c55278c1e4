"""A drawing that fails costs that drawing and a stop in the findings, not the packet or its neighbours."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from templategen.errors import OutputError
from templategen.packet.lost import gathered_in, or_lost
from templategen.packet.make import Packet, make_packet
from templategen.packet.several import make_packets
from templategen.packet.shipped import shipped_text
from templategen.table.profile.read import profile_from_text
from tests.shipped_packets import packet_files

SHARES = ("parts", "paper", "jigs", "lists", "page")


def packet(second_core: bool = False, shares: tuple[str, ...] = SHARES) -> Packet:
    """The packet of the side table."""
    return make_packet(
        profile_from_text(shipped_text("towpath-side"), "towpath-side"), shares, second_core=second_core
    )


def failing_at(monkeypatch: pytest.MonkeyPatch, name: str, wanted: Callable[..., bool]) -> None:
    """Has the function of that name fail by a mistake of ours wherever it is `wanted`."""
    import importlib

    module, _, function = name.rpartition(".")
    home = importlib.import_module(module)
    real = getattr(home, function)

    def sometimes(*args: Any, **kwargs: Any) -> Any:
        if wanted(*args):
            raise ZeroDivisionError("a length of nothing")
        return real(*args, **kwargs)

    monkeypatch.setattr(home, function, sometimes)


def of_part(code: str) -> Callable[..., bool]:
    """Whether what is drawn is the part called so."""
    return lambda *args: any(getattr(one, "code", "") == code for one in args)


D = "templategen.drawing."
PAGE = "templategen.packet.page."
CASES = (
    (f"{D}part_sheet.part_drawing", of_part("LEG"), "parts/LEG"),
    (f"{D}plan.plan_drawing", lambda *_: True, "drawings/plan"),
    (f"{PAGE}drawings.section_drawing", lambda *_: True, "page, picture section"),
    (f"{PAGE}parts.part_views", of_part("LEG"), "page, sheet of LEG"),
    (f"{D}closing_picture.closing_picture", lambda *_: True, "lists/closing.svg"),
    (f"{PAGE}steps.step_drawings", lambda *_: True, "page, pictures of the steps"),
    (f"{D}template.template", of_part("LEG"), "paper/LEG"),
)
GONE = {
    "parts/LEG.dxf", "parts/LEG.svg", "drawings/plan.dxf", "drawings/plan.svg", "paper/whole-table/plan.pdf",
    "paper/whole-table/plan-roll.pdf", "paper/whole-table/plan-one-page.pdf", "lists/closing.svg",
    "paper/one-by-one/LEG.pdf",
}  # fmt: skip


@pytest.mark.wide
def test_drawings_that_fail_cost_themselves(monkeypatch: pytest.MonkeyPatch) -> None:
    """All other files are there, whatever shows nothing of them byte for byte, and a stop names each."""
    whole = packet_files("towpath-side")
    for place, wanted, _ in CASES:
        failing_at(monkeypatch, place, wanted)
    made = packet()
    folders = {path.partition("/")[0] for path in made.files}
    gone = {
        path for path in set(whole) - set(made.files) if path.partition("/")[0] in folders and "shared" not in path
    }
    assert gone == GONE and all("shared" in path for path in set(made.files) - set(whole))
    lost = [finding for finding in made.findings if "ZeroDivisionError" in finding.says]
    assert {what for _, _, what in CASES} <= {finding.where for finding in lost}
    assert all(finding.level == "stop" and "templategen" in finding.why for finding in lost)
    assert made.exit_code == 1 and not made.record["settled"]
    assert "ZeroDivisionError" in made.files["index.html"].decode()
    same = [path for path in made.files if path.startswith(("parts/", "jigs/"))]
    assert same and all(made.files[path] == whole[path] for path in same)
    assert {file["path"] for file in made.record["files"]} == set(made.files) - {"packet.json"}


@pytest.mark.wide
def test_what_fails_in_the_copy_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    """A stop comes back from the second core as well."""
    failing_at(monkeypatch, f"{D}part_sheet.part_drawing", of_part("LEG"))
    made = packet(second_core=True, shares=("parts",))
    assert [finding.where for finding in made.findings if "ZeroDivisionError" in finding.says] == ["parts/LEG"]


@pytest.mark.wide
def test_of_several_tables_the_others_are_whole(monkeypatch: pytest.MonkeyPatch) -> None:
    """A table of which a drawing fails doesn't take its neighbours down."""
    profiles = [profile_from_text(shipped_text("towpath-side"), name) for name in ("one", "two")]
    failing_at(monkeypatch, f"{D}part_sheet.part_drawing", lambda part, *_: part.code == "LEG" and part.count)
    made = make_packets(profiles, ("parts",))
    assert {"one/parts/RIM-A.dxf", "two/parts/RIM-A.dxf"} <= set(made.files) and made.exit_code == 1


def test_refusals_and_the_machines_troubles_are_not_swallowed() -> None:
    """What the maker asked for and can't have, a full memory or disk, and failures nobody gathers go on up."""

    def fail(trouble: Exception) -> None:
        raise trouble

    for trouble in (
        OutputError(()),
        MemoryError(),
        OSError(),
    ):
        with gathered_in([]), pytest.raises(type(trouble)):
            or_lost("x", lambda trouble=trouble: fail(trouble), None)
    with pytest.raises(ZeroDivisionError):
        or_lost("x", lambda: 1 / 0, None)
