"""What the maker's bits don't reach."""

from collections.abc import Iterable, Iterator, Mapping

from templategen.checks.finding import Finding, Level
from templategen.geometry.tolerance import MET
from templategen.parts.part import Part
from templategen.router.bits import bits_of, longest
from templategen.router.clamping import cut_depth, freed
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile


def reach_findings(table: Table) -> Iterator[Finding]:
    """What is deeper than any bit cuts: a stop where nothing but the router frees the part, else a note."""
    profile = table.profile
    reach = longest(bits_of(profile))
    beyond = {part.code: deep for part in table.parts if (deep := _deepest(part, profile)) > reach + MET}
    routed = [part.code for part in table.parts if part.code in beyond and _only_routed(part, profile)]
    rest = [code for code in beyond if code not in routed]
    levels: tuple[tuple[str, Level, list[str]], ...] = (
        ("bits-too-short-to-free", "stop", routed), ("bits-too-short", "note", rest),
    )  # fmt: skip
    for kind, level, codes in levels:
        if codes:
            most = max(beyond[code] for code in codes)
            fields = {"parts": tuple(codes), "depths": _by_depth(codes, beyond)}
            yield Finding(kind, level, "router.bits", most, (None, reach), fields)


def _by_depth(codes: Iterable[str], beyond: Mapping[str, float]) -> list[dict[str, object]]:
    """Every depth that is asked for, the least first, and by what."""
    depths: dict[float, list[str]] = {}
    for code in sorted(codes, key=lambda code: beyond[code]):
        depths.setdefault(round(beyond[code], 3), []).append(code)
    return [{"deep": deep, "parts": tuple(alike)} for deep, alike in depths.items()]


def _deepest(part: Part, profile: Profile) -> float:
    """The deepest that a router goes into a part to make it whole: right through a board, to a skin under a piece."""
    freeing = part.thickness + profile.router.through if _only_routed(part, profile) else None
    pockets = (feature.depth for feature in part.features if feature.is_flat and feature.traits.is_pocket)
    return max((freeing or cut_depth(part, profile, freed(part)), *pockets))


def _only_routed(part: Part, profile: Profile) -> bool:
    """Whether all stock that the part may come out of is routed."""
    fit = [one for one in profile.stock if one.wood == part.wood and one.thickness >= part.thickness - MET]
    return bool(fit) and all(one.mode == "routed" for one in fit)
