"""The option `--shop` of every command that reads a profile."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING, TypeVar

import click

if TYPE_CHECKING:
    from templategen.table.profile.model import Profile

C = TypeVar("C", bound=Callable[..., None])


def with_shop(command: C) -> C:
    """Gives a command the option `--shop`, a workshop file."""
    told = 'Workshop file with tools, stock, printers and rates, or "none"; in place of the one that the profile '
    told += "names, or of your own."
    return click.option("--shop", metavar="FILE", type=click.Path(), help=told)(command)


def workshop_lines(profile: Profile) -> Iterator[str]:
    """Which workshop file a profile leaned on, if any."""
    if profile.workshop is not None:
        from templategen.catalogue import translated

        yield f"{translated('workshop file')}: {profile.workshop.file}"
