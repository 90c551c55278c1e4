"""What README says is what the tool does."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from click.testing import CliRunner

from templategen.cli import main
from templategen.table.profile.read import profile_from_text

README = Path(__file__).parent.parent / "README.md"
HELP = re.compile(r"(?<=<!-- help:begin -->\n).*?(?=<!-- help:end -->)", re.S)


def shown_help() -> str:
    """The commands' help as README shows it."""
    blocks = []
    for words in ((), ("start",), ("check",), ("make",), ("explain",), ("refit",), ("prove",), ("list",)):
        result = CliRunner().invoke(main, [*words, "--help"], prog_name="templategen", terminal_width=100)
        lines = (line.rstrip() for line in result.output.splitlines())
        blocks.append("```\n" + "\n".join(lines).rstrip() + "\n```\n")
    return "\n".join(blocks)


def test_help_in_readme_is_the_commands_own() -> None:
    """The help shown in README is generated; running this file as a script brings it up to date."""
    found = HELP.search(README.read_text(encoding="utf-8"))
    assert found is not None and found.group() == shown_help()


def test_profile_in_readme_can_be_built() -> None:
    """The profile shown in README reads and makes a table."""
    from templategen.table.assembly import build_table

    shown = re.search(r"```toml\n(.*?)```", README.read_text(encoding="utf-8"), re.S)
    assert shown is not None
    assert build_table(profile_from_text(shown.group(1), "readme")).placed


@pytest.mark.wide
def test_python_in_readme_runs(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The Python shown in README runs from a folder with the shipped profiles."""
    (tmp_path / "profiles").symlink_to(README.parent / "profiles")
    monkeypatch.chdir(tmp_path)
    shown = re.search(r"```python\n(.*?)```", README.read_text(encoding="utf-8"), re.S)
    assert shown is not None
    exec(compile(shown.group(1), "README", "exec"), {})
    assert (tmp_path / "packet" / "packet.json").is_file()


if __name__ == "__main__":
    text = README.read_text(encoding="utf-8")
    README.write_text(HELP.sub(lambda _: shown_help(), text), encoding="utf-8")
