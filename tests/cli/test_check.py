"""`templategen check`: exit codes, findings for people and machines, refusals in one line each."""

from __future__ import annotations

import json
import os
import re
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from templategen.cli import main
from templategen.packet.shipped import shipped_names, shipped_text


def run(*words: str) -> Result:
    """The command, in this process."""
    return CliRunner().invoke(main, list(words))


def written(folder: Path, text: str) -> str:
    """A profile with that text."""
    path = folder / "own.toml"
    path.write_text(text, encoding="utf-8")
    return str(path)


@pytest.mark.parametrize("name", shipped_names())
def test_shipped_profiles_have_nothing_to_settle(name: str, tmp_path: Path) -> None:
    """Every shipped profile checks with exit 0 and tells what is to be done; no stop, no caution."""
    result = run("check", written(tmp_path, shipped_text(name)))
    assert result.exit_code == 0, result.output
    lists = [line.split()[0] for line in result.stdout.splitlines() if not line.startswith(" ")]
    beware, todo = lists.count("beware"), lists.count("do")
    assert not {"stop", "caution"} & set(lists) and todo > 0
    assert result.stdout.splitlines()[-1] == (f"{beware} to beware of, " if beware else "") + f"{todo} to do"


@pytest.mark.wide
def test_a_thin_wall_is_a_finding_with_exit_1(tmp_path: Path) -> None:
    """A rim that can be built but should not be cut exits 1 with measured and wanted sizes."""
    result = run("check", written(tmp_path, "format = 1\n[top]\nrim_width = 55\n[joints]\nspline = 'none'\n"))
    assert result.exit_code == 1
    assert "top.rim_width" in result.stdout and "wanted" in result.stdout


def test_json_tells_measured_and_wanted(tmp_path: Path) -> None:
    """The findings for machines carry level, key, measured, wanted and unit, and the same exit code."""
    result = run("check", "--json", written(tmp_path, "format = 1\n[top]\npole_hole = 60\n"))
    told = json.loads(result.stdout)
    assert told["exit"] == result.exit_code == 1
    hole = next(f for f in told["findings"] if f["where"] == "top.pole_hole")
    assert hole["level"] == "caution" and hole["measured"] == 12.0 and hole["wanted"] == [20.0, None]


REFUSED = {
    "typing mistake": ("[top]\ndiamter = 1200\n", "top.diamter", "diameter"),
    "wrong unit": ('[top]\ndiameter = "1200 kg"\n', "top.diameter", ""),
    "negative size": ("[top]\nthickness = -38\n", "top.thickness", ""),
    "absurd size": ("[top]\ndiameter = 90000\n", "top.diameter", ""),
    "field vanishes": ("[top]\ndiameter = 1200\nrim_width = 500\n", "top.rail_width", "fewer segments"),
    "no slat fits": (
        '[slats]\nhold = "width"\nwidth = 300\n[top]\ndiameter = 800\n[legs]\ncentre_distance = 150\n',
        "slats.width",
        "or less",
    ),
    "rim too narrow for the circle": ("[top]\nsegments = 6\nrim_width = 60\n", "top.rim_width", "more segments"),
    "leg of no length": ("[top]\nheight = 205\n[base]\nthickness = 160\n", "top.height", "or more"),
    "spline longer than the wall": ("[top]\nrim_width = 62\n", "joints.spline", "top.rim_width"),
    "segments that fit no rails": ("[top]\nsegments = 10\n", "top.segments", "12"),
}


@pytest.mark.parametrize("case", REFUSED)
def test_what_cannot_be_built_is_told_in_a_line(case: str, tmp_path: Path) -> None:
    """Each impossible design exits 2 with file, key and what would do, and no traceback."""
    text, key, remedy = REFUSED[case]
    path = written(tmp_path, "format = 1\n" + text)
    result = run("check", path)
    assert result.exit_code == 2
    assert result.exception is None or isinstance(result.exception, SystemExit)
    lines = [line for line in result.stderr.splitlines() if key in line]
    assert lines and all(line.startswith(f"error: {path}") for line in result.stderr.splitlines())
    assert any(remedy in line for line in lines)
    assert result.stdout == ""


def test_several_faults_are_told_at_once(tmp_path: Path) -> None:
    """Three mistakes give three lines, each with its own line number."""
    path = written(tmp_path, "format = 1\n[top]\ndiamter = 1\nrails = 5\n[slats]\ngap = 'wide'\n")
    lines = run("check", path).stderr.splitlines()
    assert [line.split(":")[2] for line in lines] == ["3", "4", "6"]


def test_errors_for_machines(tmp_path: Path) -> None:
    """With --json a refusal is an object with file, line, key and remedy on standard output."""
    result = run("check", "--json", written(tmp_path, "format = 1\n[top]\nrails = 5\n"))
    told = json.loads(result.stdout)
    assert told["exit"] == 2
    assert told["errors"][0]["line"] == 3 and told["errors"][0]["where"] == "top.rails"


def bad_paths(folder: Path) -> dict[str, Path]:
    """Things that are no profile."""
    noise = folder / "noise.toml"
    noise.write_bytes(b"\xff\xfe\x00\x01")
    broken = folder / "broken.toml"
    broken.write_text("format = 1\n[top\n", encoding="utf-8")
    return {"missing": folder / "none.toml", "folder": folder, "noise": noise, "not TOML": broken}


@pytest.mark.parametrize("case", ["missing", "folder", "noise", "not TOML"])
def test_what_is_no_profile_is_refused(case: str, tmp_path: Path) -> None:
    """A missing file, a folder, bytes that are no text and text that is no TOML exit 2 with one line each."""
    result = run("check", str(bad_paths(tmp_path)[case]))
    assert result.exit_code == 2
    assert len(result.stderr.splitlines()) == 1 and "Traceback" not in result.output


@pytest.mark.skipif(os.geteuid() == 0, reason="root reads everything")
def test_an_unreadable_file_is_refused(tmp_path: Path) -> None:
    """A file without read permission exits 2."""
    path = Path(written(tmp_path, "format = 1\n"))
    path.chmod(0)
    assert run("check", str(path)).exit_code == 2


@pytest.mark.wide
def test_a_refusal_speaks_in_the_makers_units(tmp_path: Path) -> None:
    """Sizes of a profile in inches are refused in inches, the remedy too, and the remedy does."""
    path = tmp_path / "inch.toml"
    text = 'format = 1\nunits = "in"\n[top]\ndiameter = 40\nthickness = 1\n[joints]\ngroove_depth = 1\n'
    path.write_text(text)
    told = run("check", str(path))
    assert told.exit_code == 2 and " mm" not in told.output
    most = re.search(r"legs\.tenon: 1-1/2 in thick.*; (0\.\d+) in thick or less", told.output)
    assert most, told.output
    path.write_text(f"{text}[legs]\ntenon = [{most[1]}, 1.5, 0.9]\n")
    assert "breaks into the rail's grooves" not in run("check", str(path)).output
