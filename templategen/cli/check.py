"""`templategen check`: does it fit?"""

from __future__ import annotations

import json

import click

from templategen.cli.refuse import told_plainly


@click.command(short_help="Check that the table can be built and fits.")
@click.argument("profile", type=click.Path())
@click.option("--whole", is_flag=True, help="Print notes whole, with what they advise.")
@click.option("--json", "as_json", is_flag=True, help="Print the findings for machines.")
@told_plainly
def check(profile: str, whole: bool, as_json: bool) -> None:
    """Builds the table of PROFILE, measures its parts and prints what was found.

    Each finding has a level: a stop must be settled before cutting, a caution should be understood, a note
    informs. Measured and wanted sizes stand beside it.

    \b
    Exit code 0: nothing worse than a note. 1: a finding to settle.
    2: the profile can't be read or the table can't be built.
    """
    from templategen.checks.run import check_table
    from templategen.cli.report import finding_lines, table_lines, verdict
    from templategen.packet.build import built

    table = built(profile)
    findings = check_table(table)
    code = 1 if any(finding.level != "note" for finding in findings) else 0
    if as_json:
        from templategen.output.packet_json import finding_json, table_json
        from templategen.shop.weigh import mass_kg

        told = {
            "exit": code,
            "profile": table.profile.name,
            "profile_sha256": table.profile.sha256,
            "table": table_json(table, mass_kg(table)),
            "findings": [finding_json(finding) for finding in findings],
        }
        click.echo(json.dumps(told, ensure_ascii=False, indent=1))
    else:
        for line in table_lines(table):
            click.echo(line)
        for line in finding_lines(findings, table.profile.units, whole):
            click.echo(line)
        click.echo(verdict(findings))
        if not whole and any(finding.level == "note" for finding in findings):
            click.echo("notes in short; --whole prints what they advise")
    raise SystemExit(code)
