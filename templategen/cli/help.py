"""Help, and complaints of options, in the language that the system asks for: as any program that uses gettext."""

import gettext
import os
from inspect import cleandoc
from pathlib import Path

import click

from templategen.english import Language

DOMAIN = "templategen"

TEXTS = Path(__file__).parent.parent / "catalogue"
"""Holds a folder for each language; what stands in none is told in English."""


def languages() -> list[str]:
    """What the system asks for, before English (GNU gettext, 2.3: C and POSIX want no other language; else what
    LANGUAGE lists goes before the rest)."""
    asked = next((told for name in ("LC_ALL", "LC_MESSAGES", "LANG") if (told := os.environ.get(name))), "C")
    if asked in ("C", "POSIX"):
        return []
    wanted = [one for one in os.environ.get("LANGUAGE", "").split(":") if one] or [asked]
    english = (at for at, one in enumerate(wanted) if one.startswith(("en", "C.", "C_")) or one in ("C", "POSIX"))
    return wanted[: next(english, len(wanted))]


def system_language() -> Language:
    """What is told in before a profile has been read, or without one."""
    return "german" if any(one.startswith("de") for one in languages()) else "english"


def help_in_words(main: click.Group) -> None:
    """Has the help of all commands told in the system's language, and what click says of them."""
    if not (wanted := languages()) or not gettext.find(DOMAIN, str(TEXTS), wanted):
        return
    gettext.bindtextdomain(DOMAIN, str(TEXTS))
    gettext.textdomain(DOMAIN)
    _told(main, gettext.translation(DOMAIN, str(TEXTS), wanted))


def _told(command: click.Command, texts: gettext.NullTranslations) -> None:
    for name in ("help", "short_help", "options_metavar", "subcommand_metavar"):
        if said := getattr(command, name, None):
            setattr(command, name, texts.gettext(cleandoc(said)))
    for param in command.params:
        if said := getattr(param, "help", None):
            vars(param)["help"] = texts.gettext(said)
        param.metavar = _metavar(param, texts)
    for inner in command.commands.values() if isinstance(command, click.Group) else ():
        _told(inner, texts)


def _metavar(param: click.Parameter, texts: gettext.NullTranslations) -> str | None:
    """What stands for a parameter's value, optional ones in brackets; None where click names it by its type."""
    if param.metavar or isinstance(param, click.Option) or not param.name:
        return param.metavar and texts.gettext(param.metavar)
    said = texts.gettext(param.name.upper())
    return said if param.required else f"[{said}]"
