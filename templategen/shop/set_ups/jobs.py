"""All the jobs of a table, by the kind of part."""

from collections.abc import Iterator

from templategen.explain.book import Book
from templategen.explain.given import write_given
from templategen.explain.sizes import write_sizes
from templategen.explain.slats import ExplainedSlat, write_slats
from templategen.explain.spacing import write_spacing
from templategen.parts.part import Part
from templategen.shop.set_ups.base import base_jobs, foot_jobs
from templategen.shop.set_ups.job import Job
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.legs import leg_jobs
from templategen.shop.set_ups.rails import rail_jobs
from templategen.shop.set_ups.rim import segment_jobs
from templategen.shop.set_ups.slats import slat_jobs
from templategen.shop.set_ups.splines import spline_jobs
from templategen.table.assembly import Table


def jobs_of(ledger: Ledger, table: Table) -> Iterator[Job]:
    """Every job on every part, part by part; what their figures are is written into the ledger."""
    slats = explained_slats(ledger, table)
    for part in table.parts:
        yield from jobs_of_part(ledger, table, part, slats)


def jobs_of_part(ledger: Ledger, table: Table, part: Part, slats: dict[str, ExplainedSlat]) -> Iterator[Job]:
    """The jobs on one part of the table."""
    match part.kind:
        case "rim-segment":
            return segment_jobs(ledger, table, part)
        case "spline":
            return spline_jobs(ledger, table, part)
        case "rail":
            return rail_jobs(ledger, table, part)
        case "slat":
            return slat_jobs(ledger, slats[part.code], part)
        case "leg":
            return leg_jobs(ledger, part)
        case "base-rail":
            return base_jobs(ledger, table, part)
        case "foot":
            return foot_jobs(ledger, part)
    return iter(())


def explained_slats(ledger: Ledger, table: Table) -> dict[str, ExplainedSlat]:
    """Each slat's lines and corners, by its code: of equal slats those of the one that its length is explained by."""
    book = Book()
    write_given(book, table.profile)
    write_sizes(book, table.profile)
    write_spacing(book, table.profile, table.spacing.count)
    found = {slat.name: slat for slat in write_slats(book, table.profile, table.spacing.count)}
    codes = [part.code for part in table.parts if part.kind == "slat"]
    return {code: found[_home(ledger, code)] for code in codes}


def _home(ledger: Ledger, code: str) -> str:
    """What the names of a slat's lines begin with: its length is told by them."""
    (_, length), *_ = ledger.book.pages[f"part.{code}.length"].terms
    return length.removesuffix(".length")
