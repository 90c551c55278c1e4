"""`templategen explain`: stories for people and machines, lists, names that aren't known."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from templategen.cli import main
from templategen.packet.shipped import shipped_names, shipped_text


def run(*words: str) -> Result:
    """The command, in this process."""
    return CliRunner().invoke(main, ["explain", *words])


@pytest.fixture
def dining(tmp_path: Path) -> str:
    """The dining table's profile as a file."""
    return written(tmp_path, shipped_text("towpath-dining"))


def written(folder: Path, text: str) -> str:
    """A profile with that text."""
    path = folder / "own.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


def test_a_figure_is_told_down_to_the_profile(dining: str) -> None:
    """Formula, values put in, result, and the lines of the profile it ends in."""
    told = run(dining, "part.RIM-A.length")
    assert told.exit_code == 0, told.output
    assert told.stdout.startswith("part.RIM-A.length = 361.7314 mm\n")
    assert "  = 2 * A * tan(mitre)\n  = 2 * 675 * tan(15)\n" in told.stdout
    lines = Path(dining).read_text(encoding="utf-8").splitlines()
    cited = re.findall(r"^  ([a-z]+\.\S+) +(\S+).*profile line (\d+)", told.stdout, re.M)
    assert {name for name, _, _ in cited} >= {"top.diameter", "top.segments", "top.saw_allowance"}
    for name, value, line in cited:
        assert re.match(rf"{name.rpartition('.')[2]} = {value}\b", lines[int(line) - 1])


def test_each_step_stands_before_what_it_leans_on(dining: str) -> None:
    """Read from the top, no step uses a figure that was told above it."""
    told = json.loads(run(dining, "part.SLAT-07.length", "--json").stdout)
    met: set[str] = set()
    for step in told["steps"]:
        assert not met & set(step["terms"].values())
        met.add(step["name"])
    leaves = {leaf["name"] for leaf in told["given"]}
    assert {name for step in told["steps"] for name in step["terms"].values()} <= met | leaves
    assert told["value"] == pytest.approx(510.630, abs=5e-4)


def test_defaults_are_told_as_such(tmp_path: Path) -> None:
    """A key that isn't written is a default."""
    told = run(written(tmp_path, "format = 1\n[top]\ndiameter = 1300\n"), "top.inner_apothem").stdout
    assert re.search(r"top\.rim_width +126 mm +default", told)
    assert re.search(r"top\.diameter +1300 mm +profile line 3", told)


def test_arithmetic_in_the_profile_is_followed(tmp_path: Path) -> None:
    """A key written as arithmetic over others is a step, its sizes turned into mm."""
    text = 'format = 1\nunits = "in"\n[values]\nboard = 1.5\n[top]\nthickness = "values.board + 1/8 in"\n'
    told = run(written(tmp_path, text), "top.thickness")
    assert told.exit_code == 0, told.output
    assert "= values_board + 3.175" in told.stdout and "in mm: = 38.1 + 3.175" in told.stdout
    assert 'profile line 6: "values.board + 1/8 in"' in told.stdout
    assert re.search(r"values\.board +1-1/2 in = 38\.1 mm +profile line 4", told.stdout)


def test_rounding_in_the_profile_is_followed(tmp_path: Path) -> None:
    """round goes to whole units of the profile, digits of them, or a step, as the profile's reader does."""
    for size, value in (("values.b", 50.8), ("values.b, 1", 40.64), ("values.b, 5 mm", 40.0)):
        text = f'format = 1\nunits = "in"\n[values]\nb = 1.58\n[top]\nthickness = "round({size})"\n'
        told = json.loads(run(written(tmp_path, text), "top.thickness", "--json").stdout)
        assert told["steps"][0]["name"] == "top.thickness" and told["value"] == pytest.approx(value)


def test_inch_profiles_get_fractions(tmp_path: Path) -> None:
    """Lengths of an inch profile are told as fractions, with what is left over and in mm."""
    told = run(written(tmp_path, shipped_text("towpath-inch")), "part.RIM-A.length").stdout
    assert re.match(r"part\.RIM-A\.length = 14-1/32 in [+-] 0\.\d+ mm = 356\.\d+ mm\n", told)


@pytest.mark.parametrize("name", shipped_names())
def test_all_are_listed(name: str, tmp_path: Path) -> None:
    """Without a name every figure is listed, and any of them can be asked for."""
    path = written(tmp_path, shipped_text(name))
    told = json.loads(run(path, "--json").stdout)["quantities"]
    names = [row["name"] for row in told]
    assert len(names) > 200 and "part.LEG.length" in names
    assert run(path, names[-1]).exit_code == 0


def test_the_beginning_of_a_name_lists_what_it_holds(dining: str) -> None:
    """`part.LEG` lists the leg's figures and no other part's."""
    lines = run(dining, "part.LEG").stdout.splitlines()
    assert lines and all(line.startswith("part.LEG.") for line in lines)


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("top.inner_apotem", "top.inner_apothem"), ("inner_apothem", "top.inner_apothem"), ("slats.gapp", "slats.gap")],
)
def test_a_mistyped_name_offers_the_nearest(dining: str, typed: str, meant: str) -> None:
    """A name that isn't known exits 2 and says which was meant."""
    told = run(dining, typed)
    assert told.exit_code == 2 and told.stdout == ""
    assert re.search(rf"did you mean .*{re.escape(meant)}\b", told.stderr)


@pytest.mark.parametrize("typed", ["<script>", "\u202etop", "x" * 5000, "\x00\x1b[31m", "..", " "])
def test_hostile_names_are_refused_plainly(dining: str, typed: str) -> None:
    """Markup, control signs and endless names are one short line, never a traceback."""
    told = run(dining, typed)
    assert told.exit_code == 2
    assert "Traceback" not in told.output and len(told.stderr) < 400 and "\x1b[31m" not in told.stderr
