"""`templategen check`: does it fit?"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import click

from templategen.cli.log import with_log
from templategen.cli.refuse import refusals_in_words
from templategen.cli.say import say
from templategen.cli.shop import with_shop, workshop_lines

if TYPE_CHECKING:
    from templategen.packet.pipeline import Worked


@click.command(short_help="Check that the table can be built and fits.")
@click.argument("profiles", metavar="PROFILE...", nargs=-1, required=True, type=click.Path())
@click.option("--whole", is_flag=True, help="Print what only informs too, with its reasons.")
@click.option("--json", "as_json", is_flag=True, help="Print the findings for machines.")
@with_shop
@with_log
@refusals_in_words
def check(profiles: tuple[str, ...], whole: bool, as_json: bool, shop: str | None) -> None:
    """Builds the table of each PROFILE, measures its parts and prints what was found.

    Each finding has a level: a stop must be settled before cutting, a caution should be understood, a note
    informs. Measured and wanted sizes stand beside it.

    \b
    Exit code 0: nothing worse than a note. 1: a finding to settle.
    2: the profile can't be read or the table can't be built.
    """
    from templategen.packet.build import with_places
    from templategen.packet.table_stages import TABLE, begun, speak_as
    from templategen.table.profile.read import read_profile

    read = [read_profile(profile, shop) for profile in profiles]
    known = [begun(profile) for profile in read]
    for profile, worked in zip(read, known, strict=True):
        speak_as(profile)
        with with_places(profile):
            _ = worked[TABLE]
    told = [_reported(worked, whole, as_json) for worked in known]
    code = max(int(one["exit"]) for one in told)
    if as_json:
        value = told[0] if len(told) == 1 else {"exit": code, "profiles": told}
        say(json.dumps(value, ensure_ascii=False, indent=1))
    raise SystemExit(code)


def _reported(worked: Worked, whole: bool, as_json: bool) -> dict[str, Any]:
    """Prints what was found of one table, or gives it back for machines."""
    from templategen.cli.report import finding_lines, table_lines, verdict
    from templategen.packet.table_stages import CHECKED, TABLE, speak_as

    table = worked[TABLE]
    speak_as(table.profile)
    findings = worked[CHECKED]

    code = 1 if any(finding.level != "note" for finding in findings) else 0
    if as_json:
        from templategen.output.packet_json import finding_json, table_json
        from templategen.shop.weigh import mass_kg

        return {
            "exit": code,
            "profile": table.profile.name,
            "profile_sha256": table.profile.sha256,
            "workshop": table.profile.workshop.file if table.profile.workshop else None,
            "table": table_json(table, mass_kg(table)),
            "findings": [finding_json(finding, table.profile.units) for finding in findings],
        }
    for line in (*table_lines(table), *workshop_lines(table.profile)):
        say(line)
    for line in finding_lines(findings, table.profile.units, whole):
        say(line)
    say(verdict(findings))
    return {"exit": code}
