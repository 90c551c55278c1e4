"""--help follows the language of the system, as any program that uses gettext."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from collections.abc import Iterator
from inspect import cleandoc
from pathlib import Path

import click
import polib
import pytest
from click.testing import CliRunner

from templategen.cli import main
from templategen.cli.help import languages
from tests.words.__main__ import HELP, compiled


def texts_of(command: click.Command) -> Iterator[str]:
    """All that its help says."""
    told = (command.help, command.short_help, *(getattr(param, "help", "") for param in command.params))
    yield from (cleandoc(one) for one in told if one)
    for inner in command.commands.values() if isinstance(command, click.Group) else ():
        yield from texts_of(inner)


def test_all_help_has_its_german_and_is_compiled() -> None:
    """No text is missing; `python -m tests.words` compiles them; every terminal of the country can show them."""
    german = {entry.msgid: entry.msgstr for entry in polib.pofile(str(HELP)) if entry.translated()}
    assert not [text for text in texts_of(main) if text not in german]
    assert HELP.with_suffix(".mo").read_bytes() == compiled(HELP)
    assert "".join(german.values()).encode("latin-1")


@pytest.mark.parametrize(
    ("surroundings", "wanted"),
    [
        ({}, []),
        ({"LANG": "de_DE.UTF-8"}, ["de_DE.UTF-8"]),
        ({"LANG": "en_GB.UTF-8", "LC_MESSAGES": "de_AT"}, ["de_AT"]),
        ({"LANG": "de_DE", "LC_ALL": "C"}, []),
        ({"LANG": "de_DE", "LC_ALL": "POSIX"}, []),
        ({"LANG": "de_DE", "LC_MESSAGES": "", "LC_ALL": ""}, ["de_DE"]),
        ({"LANGUAGE": "de"}, []),
        ({"LANGUAGE": "de", "LANG": "C"}, []),
        ({"LANGUAGE": "de:fr", "LANG": "en_GB"}, ["de", "fr"]),
        ({"LANGUAGE": "en:de", "LANG": "de_DE"}, []),
        ({"LANGUAGE": "nl:en_GB:de", "LANG": "de_DE"}, ["nl"]),
        ({"LANG": "C.UTF-8"}, []),
    ],
)  # fmt: skip
def test_what_the_system_asks_for(
    surroundings: dict[str, str], wanted: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """LC_ALL goes before LC_MESSAGES and LANG, LANGUAGE before all unless that is C; English ends the list."""
    for name in ("LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"):
        monkeypatch.delenv(name, raising=False)
    for name, value in surroundings.items():
        monkeypatch.setenv(name, value)
    assert languages() == wanted


def test_help_is_told_in_german() -> None:
    """Of a command whole, and what is said of an option that isn't there."""
    asked = {**os.environ, "LC_ALL": "de_AT.UTF-8", "PYTHONUTF8": "1"}
    run = [sys.executable, "-m", "templategen", "make"]
    told = subprocess.run([*run, "--help"], env=asked, capture_output=True, text=True, encoding="utf-8", check=True)
    assert told.stdout.startswith("Aufruf: templategen make [OPTIONEN] PROFIL...") and "[nötig]" in told.stdout
    assert not [word for word in (" the ", " of ", " and ", "Usage", "Options") if word in told.stdout]
    wrong = subprocess.run([*run, "--jsn"], env=asked, capture_output=True, text=True, encoding="utf-8", check=False)
    assert wrong.returncode == 2 and "Fehler: Die Option" in wrong.stderr


GERMAN_COMMANDS = {
    "list woods": "dauerhaft", "list papers": "Papier", "list profiles": "towpath",
    "start tisch": "geschrieben; weiter mit", "start tisch --workshop": "mit --shop nennen",
}  # fmt: skip


@pytest.fixture
def german_system(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In an empty folder of a system that speaks German."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("LC_ALL", "de_DE.UTF-8")
    monkeypatch.delenv("LANGUAGE", raising=False)


@pytest.mark.parametrize("line", GERMAN_COMMANDS)
def test_commands_without_a_profile_follow_the_system(line: str, german_system: None) -> None:
    """Lists and what was written; keys for machines stay."""
    told = CliRunner().invoke(main, line.split())
    assert told.exit_code == 0 and GERMAN_COMMANDS[line] in told.output
    assert not [word for word in (" the ", " of ", "wrote", "class", "resistant") if word in told.output]
    if line.startswith("list"):
        machines = CliRunner().invoke(main, [*line.split(), "--json"])
        assert next(iter(json.loads(machines.output)[0])) == line.removeprefix("list ").removesuffix("s")


@pytest.mark.parametrize(
    "line", ["check there-is-none.toml", "start tisch --from nonesuch", "start a --workshop --shop b"]
)
def test_refusals_without_a_profile_follow_the_system(line: str, german_system: None) -> None:
    """A profile that speaks English is told of in English all the same."""
    told = CliRunner().invoke(main, line.split())
    assert told.exit_code == 2
    assert not [word for word in (" the ", " of ", "ships", "goes with", "no such", "mean") if word in told.output]
    Path("table.toml").write_text('format = 1\n[words]\nlanguage = "english"\n[top]\ndiamter = 3\n')
    english = CliRunner().invoke(main, ["check", "table.toml", "--shop", "none"])
    assert english.output.startswith("error: ") and "did you mean diameter?" in english.output


def test_list_alone_tells_what_can_be_listed() -> None:
    """Line by line, as its help does."""
    told = CliRunner().invoke(main, ["list"])
    assert told.exit_code == 0 and told.output == CliRunner().invoke(main, ["list", "--help"]).output
    assert "\n  woods " in told.output
