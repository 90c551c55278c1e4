"""`templategen refit`: the form, the packet, exit codes and refusals."""

from __future__ import annotations

import csv
import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from templategen.cli import main
from templategen.packet.refit import make_refit
from templategen.packet.shipped import shipped_text
from templategen.table.profile.read import profile_from_text, read_profile
from tests.shipped_packets import packet_files

SIDE = "towpath-side"
"""The smallest table, so that paper is quick."""


QUICK = ("--only", "parts,lists")
"""Without paper, which takes longest."""


def run(*words: str) -> Result:
    """The command, in this process."""
    return CliRunner().invoke(main, list(words))


@pytest.fixture
def profile(tmp_path: Path) -> Path:
    """A shipped profile in a folder of its own."""
    path = tmp_path / f"{SIDE}.toml"
    path.write_text(shipped_text(SIDE), encoding="utf-8")
    return path


def bench(folder: Path, text: str) -> str:
    """A file of what was measured."""
    path = folder / "bench.toml"
    path.write_text(f"format = 1\n{text}", encoding="utf-8")
    return str(path)


SMALL = '[[cut]]\npart = "RAIL-LOW"\n[[measured]]\npart = "RIM-A"\nleft_angle = 22.6\nlength = "{length} mm"\n'


def small(profile: Path) -> str:
    """A bench with one segment a little off."""
    from templategen.packet.build import built

    return SMALL.format(length=round(built(profile).sizes.inner_length + 0.3, 2))


@pytest.mark.wide
def test_measuring_nothing_gives_the_very_files_of_make() -> None:
    """Parts and templates of an empty bench are make's, byte for byte."""
    profile = profile_from_text(shipped_text(SIDE), SIDE)
    packet, _ = make_refit(profile, None, only=("parts", "paper"))
    made = packet_files(SIDE)
    same = [path for path in packet.files if path.startswith(("parts/", "paper/", "router/"))]
    assert len(same) > 20
    for path in same:
        assert packet.files[path] == made[path], path
    missing = {p for p in made if p.startswith(("parts/", "paper/", "router/"))} - set(same)
    assert all("plan" in path or "elevation" in path for path in missing)
    assert packet.exit_code == 0


@pytest.mark.parametrize("more", [("-o", "out"), ("--only", "parts"), ("--json",)])
def test_a_form_is_all_that_is_asked_for(profile: Path, tmp_path: Path, more: tuple[str, ...]) -> None:
    """Options that the form has no use for are refused, and nothing is written."""
    form = tmp_path / "form.toml"
    found = run("refit", str(profile), str(form), "--form", *more)
    assert found.exit_code == 2
    assert more[0] in found.stderr
    assert not form.exists()


def test_the_form_is_written_and_never_over_a_file(profile: Path, tmp_path: Path) -> None:
    """--form writes the form, refuses to write over it, and what it wrote can be given back as it is."""
    form = str(tmp_path / "form.toml")
    assert run("refit", str(profile), form, "--form").exit_code == 0
    assert "[[measured]]" in Path(form).read_text(encoding="utf-8")
    assert run("refit", str(profile), form, "--form").exit_code == 2
    assert run("refit", str(profile), form, "--form", "--replace").exit_code == 0
    result = run("refit", str(profile), form, "-o", str(tmp_path / "out"), *QUICK)
    assert result.exit_code == 0, result.output
    assert "nothing drawn anew" in result.output


def revision_of(svg: str) -> str:
    """What a drawing says of its part's own revision."""
    found = re.search(r"Revision ([0-9a-f]+)", svg)
    return found[1] if found else ""


@pytest.mark.wide
def test_a_refit_writes_new_templates_for_what_is_uncut(profile: Path, tmp_path: Path) -> None:
    """New shapes have files, a revision and paper of their own; what is cut has none; the list and picture are there
    and the record tells slides and gaps."""
    out = tmp_path / "out"
    result = run("refit", str(profile), bench(tmp_path, small(profile)), "-o", str(out), *QUICK)
    assert result.exit_code == 0, result.output
    assert run("prove", str(out)).exit_code == 0
    told = json.loads((out / "packet.json").read_text(encoding="utf-8"))
    new = [code for code, first in told["refit"]["first_codes"].items() if code != first]
    uncut = [code for code in new if code in told["refit"]["to_cut"]]
    assert any(code.startswith("RIM-") for code in uncut)
    for code in uncut:
        svg = (out / "parts" / f"{code}.svg").read_text(encoding="utf-8")
        assert len(revision_of(svg)) == 8 and "re-fitted" in svg
        assert (out / "parts" / f"{code}.dxf").is_file()
    assert {path.name.rpartition("-")[0] for path in (out / "router").iterdir()} & set(uncut)
    assert "RIM-01" in new and not (out / "parts" / "RIM-01.dxf").exists()
    assert not (out / "parts" / "RAIL-LOW.dxf").exists()
    rows = list(csv.DictReader((out / "lists" / "refit.csv").open(encoding="utf-8")))
    segments = read_profile(profile).top.segments
    assert [row["place"] for row in rows if row["figure"] == "slide"] == [str(n + 1) for n in range(segments)]
    assert sum(row["figure"] == "gap" and row["about"] == "joint" for row in rows) == segments
    assert (out / "lists" / "refit.svg").is_file()
    assert len(told["refit"]["gaps"]) == len(told["refit"]["slides"]) == segments
    assert max(told["refit"]["gaps"]) < 1e-6
    kept = packet_files(SIDE)
    for code in told["refit"]["to_cut"]:
        if code not in new and told["refit"]["to_cut"][code] == next(
            part["count"] for part in told["parts"] if part["code"] == code
        ):
            again = (out / "parts" / f"{code}.svg").read_text(encoding="utf-8")
            assert revision_of(again) == revision_of(kept[f"parts/{code}.svg"].decode()) != ""


@pytest.mark.wide
def test_the_same_bench_gives_the_same_bytes(profile: Path, tmp_path: Path) -> None:
    """Two runs write the same, and a share of it is the same as in the whole."""
    text = bench(tmp_path, small(profile))
    wanted = (None, ["parts", "lists"])
    one, other = (make_refit(read_profile(profile), text, only=shares)[0].files for shares in wanted)
    shared = [path for path in one if path.startswith(("parts/", "router/", "lists/"))]
    assert set(other) == {*shared, "packet.json", "profile.toml", "measured.toml"}
    assert all(one[path] == other[path] for path in shared)
    assert any(path.startswith("paper/one-by-one/RIM-") for path in one)


@pytest.mark.wide
def test_a_ring_that_cannot_close_exits_1_and_says_what_to_recut(profile: Path, tmp_path: Path) -> None:
    """All segments cut, one end off: exit 1, the part named, the packet written all the same."""
    codes = [code for code in ("RIM-A", "RIM-B") if f'part = "{code}"' in form_of(profile, tmp_path)]
    text = "".join(f'[[cut]]\npart = "{code}"\n' for code in codes)
    text += '[[measured]]\npart = "RIM-A"\nplace = 1\nleft_angle = 24.5\n'
    out = tmp_path / "out"
    result = run("refit", str(profile), bench(tmp_path, text), "-o", str(out), *QUICK)
    assert result.exit_code == 1, result.output
    assert "recut RIM-A at place 1" in " ".join(result.output.split())
    assert (out / "packet.json").is_file()


def form_of(profile: Path, folder: Path) -> str:
    """The form's text."""
    target = folder / "form.toml"
    run("refit", str(profile), str(target), "--form", "--replace")
    return target.read_text(encoding="utf-8")


@pytest.mark.wide
def test_contradictions_exit_1_and_are_named(profile: Path, tmp_path: Path) -> None:
    """Two sizes for one edge: exit 1, both entries named."""
    entry = '[[measured]]\npart = "RIM-A"\nplace = 1\nleft_angle = {}\n'
    text = entry.format(22.5) + entry.format(23.5)
    result = run("refit", str(profile), bench(tmp_path, text), "-o", str(tmp_path / "out"), *QUICK)
    assert result.exit_code == 1
    assert "measured[1].left_angle and measured[2].left_angle contradict" in " ".join(result.output.split())


def test_faults_exit_2_and_nothing_is_written(profile: Path, tmp_path: Path) -> None:
    """A code that is no part is refused with file, line and the nearest; JSON tells the same."""
    text = bench(tmp_path, '[[cut]]\npart = "RAIL-LO"\n')
    out = tmp_path / "out"
    result = run("refit", str(profile), text, "-o", str(out), "--json")
    assert result.exit_code == 2 and not out.exists()
    told = json.loads(result.stdout)
    assert told["errors"][0]["line"] == 3 and "RAIL-LOW" in told["errors"][0]["remedy"]
    for bad in ("not toml [", 'title = "x"\n', "\x00"):
        (tmp_path / "bench.toml").write_text(bad, encoding="utf-8")
        assert run("refit", str(profile), text, "-o", str(out)).exit_code == 2
    assert run("refit", str(profile), str(tmp_path / "none.toml"), "-o", str(out)).exit_code == 2
    assert run("refit", str(profile), text).exit_code == 2


@pytest.mark.wide
def test_json_is_the_record(profile: Path, tmp_path: Path) -> None:
    """--json prints the record with exit code and folder."""
    out = tmp_path / "out"
    result = run("refit", str(profile), bench(tmp_path, small(profile)), "-o", str(out), "--json", *QUICK)
    told = json.loads(result.stdout)
    assert told["exit"] == result.exit_code == 0 and told["refit"]["to_cut"]


def test_what_was_measured_is_blamed_on_its_own_file(profile: Path, tmp_path: Path) -> None:
    """A table that can't be built of what was measured is told with that file, not with a line of the profile."""
    sizes = "thickness = 19\nwidth = 67\ngroove_depth = 19"
    text = bench(
        tmp_path, f'[[measured]]\npart = "RIM-A"\ngroove_width = 4\n[[measured]]\npart = "RAIL-LOW"\n{sizes}\n'
    )
    result = run("refit", str(profile), text, "-o", str(tmp_path / "out"), *QUICK)
    assert result.exit_code == 2 and not (tmp_path / "out").exists()
    assert f"{text}: a mortise 19.0 mm deep" in result.output and profile.name not in result.output
