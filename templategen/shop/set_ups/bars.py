"""The first operations on every part: planing, ripping and, for a plain bar, cutting to length."""

from collections.abc import Iterator
from dataclasses import replace

from templategen.parts.part import Part
from templategen.shop.set_ups import tolerances
from templategen.shop.set_ups.ledger import Ledger
from templategen.shop.set_ups.sawn_ends import sawn_jobs, square_ends
from templategen.shop.set_ups.set_up import Job, Lay, Proof

RIPPED = "on the far side of the strip; its straight edge to the fence, set to the kerf's near face"

LAPPED = "write on the rails that cross how thick they came: trenches of their laps go by it"


def planed(ledger: Ledger, part: Part, thickness: str, proof: Proof | None = None) -> Job:
    """Planed to thickness, the face side, which is the top, down on the bed; to the general tolerance unless another
    proof is given. What has a tongue or a tenon, which cuts from both faces leave, is as even as that must be."""
    lay = Lay(part.code, part.count, "bottom", "bottom", "top")
    shared = (ledger.setting("height", thickness, "thickness that the planer leaves"),)
    proof = proof or tolerances.length(ledger, thickness, "thickness at both ends and the middle", "height")
    alike = tolerances.fitted if part.cuts("tongue", "tenon") else tolerances.level
    even = alike(ledger, "piece against piece, all in one go", "height")
    noted = (LAPPED,) if part.cuts("lap") else ()
    return Job("plane", "", shared, (), (lay,), "", replace(proof, checks=(*proof.checks, even)), noted)


def ripped(ledger: Ledger, part: Part, width: str, proof: Proof | None = None) -> Job:
    """Ripped to width, one edge planed straight first; to the general tolerance unless another proof is given."""
    lay = Lay(part.code, part.count, "high", "top", "low")
    shared = (ledger.setting("fence", width, "from the fence to the blade"),)
    proof = proof or tolerances.length(ledger, width, "width at both ends", "fence")
    return Job("rip", "saw blade", shared, (), (lay,), RIPPED, proof)


def bar(
    ledger: Ledger,
    part: Part,
    thickness: str,
    width: str,
    length: str,
    ends: Proof | None = None,
) -> Iterator[Job]:
    """A plain bar with square ends; `ends` is the proof of its length, if not the general one."""
    yield planed(ledger, part, thickness)
    yield ripped(ledger, part, width)
    proof = ends or tolerances.length(ledger, length, "length between the ends", "stop")
    yield from sawn_jobs(ledger, part, square_ends(ledger, length), length, proof)
