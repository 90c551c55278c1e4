"""The dry fit as findings: wood claimed twice, touches where no joint is, joints that don't meet as designed."""

from collections.abc import Iterator

from templategen.checks.finding import Finding
from templategen.fit.dry_fit import Clash, Contact, DryFit
from templategen.table.assembly import Table
from templategen.table.rim import eased_off_mitre

KEYS = {
    "half-lap": "top.rails",
    "three-way-lap": "top.rails",
    "tongue-and-groove": "joints.tongue",
    "rail-tenon": "joints.groove_depth",
    "leg-tenon": "legs.tenon",
    "bolted-tenon": "legs.tenon",
    "draw-bored-tenon": "legs.tenon",
    "mitre": "top.segments",
    "spline": "joints.spline_depth",
    "foot": "base.foot_length",
    "": "slats.apex",
}
"""The profile key to look at first for each kind of joint."""

SHORT = 0.005
"""Share of its area by which a joint may miss what its definition says, for the chords of arcs."""

LEAST = 1.0
"""Area by which it may, mm2."""


def fit_findings(table: Table, fit: DryFit) -> Iterator[Finding]:
    """What the dry fit refutes; nothing when every part fits."""
    for clash in fit.clashes:
        yield Finding("same-wood", "stop", KEYS[clash.kind], clash.volume, (0.0, 0.0), _pair(clash))
    for clash in fit.touches:
        closed = not clash.kind and table.profile.slats.apex == "closed"
        yield Finding("touch", "caution", KEYS[clash.kind], 0.0, (0.05, None), {**_pair(clash), "closed": closed})
    yield from _missed(table, fit)


def _pair(clash: Clash) -> dict[str, object]:
    return {"one": clash.parts[0], "other": clash.parts[1], "places": clash.places if clash.places > 1 else None}


def _missed(table: Table, fit: DryFit) -> Iterator[Finding]:
    """Joints that meet over less, or more, than designed: each kind of pair once."""
    told: set[tuple[str, str, str]] = set()
    for contact in fit.contacts:
        joint = contact.joint
        name = (joint.kind, *joint.parts)
        if name not in told and _is_missed(table, contact):
            told.add(name)
            fields = {"one": joint.parts[0], "other": joint.parts[1], "joint": joint.kind}
            wanted = (joint.contact_mm2, joint.contact_mm2)
            yield Finding("missed-joint", "stop", KEYS[joint.kind], round(contact.area, 3), wanted, fields)


def _is_missed(table: Table, contact: Contact) -> bool:
    designed = contact.joint.contact_mm2
    if contact.joint.kind == "mitre":
        designed += eased_off_mitre(table.sizes)
    return abs(contact.area - designed) > max(LEAST, SHORT * designed)
