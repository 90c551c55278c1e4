"""The router as templates see it: its bit, what leads it, its base, and what is said of them on every template."""

from collections.abc import Iterable, Iterator

from templategen.catalogue import translated
from templategen.checks.describe import said
from templategen.errors import DesignError, Fault
from templategen.geometry.bounds import Bounds
from templategen.geometry.guide import BUSH_WALL, Guide
from templategen.jigs.jig import Critical
from templategen.jigs.piece import shown
from templategen.table.bounds.refusals import refusal
from templategen.table.profile.model import Profile

CAUTIONS = (
    "Router: work and template clamped, both hands on it, unplugged while the bit is changed or set.",
    "A bit can't be held by a loose template: screws or clamps, never a hand.",
    "Start it clear of the wood, plunge inside the window, lift the bit before moving the router away.",
)
"""At templates with a window."""

CLAMPED = CAUTIONS[:2]
"""At every template for a router."""


def guide_of(profile: Profile) -> Guide:
    """The maker's bit and bush, or the bit and its bearing."""
    bit = profile.shop.router_bit
    return Guide(bit, bit if profile.jigs.guide == "bearing" else profile.shop.guide_bush)


def refused(where: str, kind: str, profile: Profile, **sizes: float) -> Fault:
    """The refusal of a jig, with sizes in the maker's unit."""
    told = refusal(kind, {name: shown(mm, profile) for name, mm in sizes.items()})
    return Fault(where, told.found, told.other, kind=kind)


def faults_of(profile: Profile, narrow: float) -> tuple[Fault, ...]:
    """Why the bit and its guide can't cut what is so narrow (mm), and what could; else nothing."""
    guide = guide_of(profile)
    if not guide.fits:
        wide = guide.bit + 2 * BUSH_WALL
        return (refused("shop.guide_bush", "bit-through-bush", profile, bit=guide.bit, bush=guide.bush, wide=wide),)
    if not guide.reaches(narrow):
        kind, wide = "bit-over-jig" if guide.is_bearing else "bit-and-bush-over-jig", narrow + 2 * BUSH_WALL
        return (refused("shop.router_bit", kind, profile, bit=guide.bit, size=narrow, wide=wide),)
    return ()


def refuse(faults: Iterable[Fault]) -> None:
    """Raises what stands against a template.

    Raises:
        DesignError: there are faults.
    """
    once = tuple(dict.fromkeys(faults))
    if once:
        raise DesignError(once)


def seat(profile: Profile, cut: Bounds) -> Bounds:
    """What the template must cover so that the router's base rests on it wherever its bit stands in the cut."""
    reach = profile.jigs.router_base / 2 - profile.shop.router_bit / 2
    return cut.grown(reach)


def projection(profile: Profile, depth: float) -> float:
    """How far the bit stands out of the router's base: through the template and to the depth."""
    return profile.jigs.thickness + depth


def bit_figures(profile: Profile, depth: float) -> Iterator[Critical]:
    """The figures that every template shares."""
    guide = guide_of(profile)
    yield Critical("edge of the cut to edge of the template", guide.offset, "mm", how="(guide bush - router bit) / 2")
    yield Critical("bit below the router's base", projection(profile, depth), "mm", how="template + depth of the cut")


def led_by(profile: Profile) -> str:
    """Which bit in which guide, in words."""
    guide = guide_of(profile)
    bit = shown(guide.bit, profile)
    if guide.is_bearing:
        return said(
            "{bit} bit with a bearing as wide as itself, on the shank's side, so that it runs on the template",
            bit=bit,
        )
    return said(
        "{bit} bit in a {bush} guide bush whose collar is shorter than the template is thick",
        bit=bit,
        bush=shown(guide.bush, profile),
    )


def fitted(profile: Profile) -> str:
    """That the bit goes in with its guide."""
    return said("Fit the {bit}.", bit=led_by(profile))


def setting_steps(profile: Profile, depth: float) -> Iterator[str]:
    """How the router is set for a template."""
    yield fitted(profile)
    out = shown(projection(profile, depth), profile)
    passes = shown(profile.jigs.pass_depth, profile)
    yield said(
        "Set the bit {out} below the base for full depth; go down by {passes} a pass at most.", out=out, passes=passes
    )


def proof_of_guide(profile: Profile) -> Iterator[str]:
    """The test cut that shows whether bush, bit and template are what they were taken for."""
    guide = guide_of(profile)
    least = (
        said("{size} less than the window", size=shown(2 * guide.offset, profile))
        if guide.offset
        else translated("as wide as the window")
    )
    deep, near = shown(5, profile), shown(0.1, profile)
    yield said(
        "Rout a pocket {deep} deep in a test strip: it must measure {least}, both ways, within {near}.",
        deep=deep,
        least=least,
        near=near,
    )
    yield "Push the router hard against all four sides in turn: a second round must take nothing off."


def corners_left(profile: Profile, where: str) -> str:
    """What a chisel still has to square."""
    radius = shown(profile.shop.router_bit / 2, profile)
    return said(
        "The bit leaves corners of {radius} radius in {where:word}: square them with a chisel.",
        radius=radius,
        where=where,
    )
