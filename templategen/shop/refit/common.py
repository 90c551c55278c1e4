"""Sizes that all parts of a kind share: where they were measured, what is still to cut is designed to them."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from math import fsum
from typing import Any

from templategen.checks.finding import Finding
from templategen.shop.refit.settle import CONTRADICTS, SAME, Copy, Settled, named
from templategen.shop.refit.sizes import Best
from templategen.table.assembly import Table
from templategen.table.profile.model import Profile
from templategen.table.rails import leg_joint, top_leg_joint
from templategen.table.sizes import Sizes

Seen = tuple[Copy, Best]
"""A copy and what one of its sizes measures."""


@dataclass(frozen=True, slots=True)
class Rule:
    """How sizes of a name, on parts of those kinds, set a key of the profile.

    `pick` is "least" where a mate must still enter, "most" where it is the mate, "mean" where all should be flush;
    `key` the profile's key, with a number behind it for one of a list; `made` makes its value of the size picked.
    """

    kinds: tuple[str, ...]
    name: str
    pick: str
    key: str
    made: Callable[[Sizes, float], float]


def _plain(_sizes: Sizes, value: float) -> float:
    return value


def _with_glue(sizes: Sizes, value: float) -> float:
    return value + sizes.profile.joints.glue_clearance


def _with_slide(sizes: Sizes, value: float) -> float:
    return value + sizes.clearances.slide


def _less_glue(sizes: Sizes, value: float) -> float:
    return value - sizes.profile.joints.glue_clearance


def _less_tenon(sizes: Sizes, value: float) -> float:
    """The tenon for a mortise of this width; where play is reckoned it is a share of the tenon's width."""
    width, play = sizes.profile.legs.tenon[1], sizes.clearances
    reckoned = sizes.profile.joints.tenon_clearance is None and play.tenon > play.glue
    return value / (1 + play.tenon / width) if reckoned else value - play.tenon


def _less_end(sizes: Sizes, value: float) -> float:
    return value - sizes.profile.joints.end_clearance


def _spline_depth(sizes: Sizes, value: float) -> float:
    return value / 2 + sizes.profile.joints.end_clearance


def _with_draw(sizes: Sizes, value: float) -> float:
    return value + sizes.profile.legs.peg[1]


def _height(sizes: Sizes, value: float) -> float:
    return sizes.base_top + value + sizes.profile.top.thickness


RULES = (
    Rule(("slat",), "tongue_thickness", "most", "joints.tongue", _with_slide),
    Rule(("rail",), "tenon_thickness", "most", "joints.tongue", _with_glue),
    Rule(("rim-segment", "rail"), "groove_width", "least", "joints.tongue", _plain),
    Rule(("rim-segment", "rail"), "groove_depth", "least", "joints.groove_depth", _plain),
    Rule(("spline",), "thickness", "most", "joints.spline_thickness", _with_glue),
    Rule(("spline",), "width", "most", "joints.spline_depth", _spline_depth),
    Rule(("rim-segment",), "slot_width", "least", "joints.spline_thickness", _plain),
    Rule(("rim-segment",), "slot_depth", "least", "joints.spline_depth", _plain),
    Rule(("rim-segment", "rail"), "thickness", "mean", "top.thickness", _plain),
    Rule(("rail",), "width", "mean", "top.rail_width", _plain),
    Rule(("slat",), "thickness", "mean", "slats.thickness", _plain),
    Rule(("leg",), "section", "mean", "legs.section", _plain),
    Rule(("leg",), "tenon_thickness", "most", "legs.tenon.0", _plain),
    Rule(("leg",), "tenon_width", "most", "legs.tenon.1", _plain),
    Rule(("leg",), "tenon_length", "most", "legs.tenon.2", _plain),
    Rule(("rail", "base-rail"), "mortise_thickness", "least", "legs.tenon.0", _less_glue),
    Rule(("rail", "base-rail"), "mortise_width", "least", "legs.tenon.1", _less_tenon),
    Rule(("rail", "base-rail"), "mortise_depth", "least", "legs.tenon.2", _less_end),
    Rule(("rail",), "dry_depth", "least", "legs.stub", _less_end),
    Rule(("leg",), "peg_shoulder", "mean", "legs.peg.2", _with_draw),
    Rule(("rail",), "peg_rise", "mean", "legs.peg.2", _plain),
    Rule(("base-rail",), "length", "mean", "base.length", _plain),
    Rule(("base-rail",), "width", "mean", "base.rail_width", _plain),
    Rule(("base-rail",), "thickness", "mean", "base.thickness", _plain),
    Rule(("foot",), "length", "mean", "base.foot_length", _plain),
    Rule(("foot",), "thickness", "mean", "base.foot_thickness", _plain),
    Rule(("leg",), "length", "mean", "top.height", _height),
)
"""In order of precedence, the last rule for a key wins: a cavity that is already cut overrides what fits into it."""


def common_profile(table: Table, settled: Settled) -> tuple[Profile, tuple[Finding, ...]]:
    """The profile with the sizes that were measured, unchanged where they are the drawing's, and a caution for each
    size on which copies differ."""
    profile = table.profile
    findings: list[Finding] = []
    for rule in RULES:
        seen = _seen(table, settled, rule)
        if not seen:
            continue
        findings += _uneven(rule, seen)
        value = _picked(rule, seen)
        drawn = _drawn(Sizes(profile), rule, value)
        if drawn is not None:
            profile = _set(profile, rule.key, drawn)
    seen = _whole_slats(table, settled)
    if seen:
        findings += _uneven(SLAT_WIDTH, seen)
        profile = _even_slats(table, profile, _picked(SLAT_WIDTH, seen))
    return profile, tuple(findings)


def _seen(table: Table, settled: Settled, rule: Rule) -> list[Seen]:
    kinds = {part.code: part.kind for part in table.parts}
    found = ((copy, kinds[copy[0]], sizes) for copy, sizes in sorted(settled.sizes.items()))
    named = ((copy, kind, sizes if kind != "rail" else _on_top(table, sizes)) for copy, kind, sizes in found)
    return [(copy, sizes[rule.name]) for copy, kind, sizes in named if rule.name in sizes and kind in rule.kinds]


def _on_top(table: Table, sizes: Mapping[str, Best]) -> Mapping[str, Best]:
    """A rail's sizes, of the mortise of a dry tenon what the same tenon has in the ground cross: it has more play
    across, and under a bolt its depth is that of short tenons."""
    if table.sizes.is_glued_on_top:
        return sizes
    more = top_leg_joint(table.sizes).clearance - leg_joint(table.sizes).clearance
    deep = "dry_depth" if table.profile.legs.top_joint == "bolted" else "mortise_depth"
    found = {deep if name == "mortise_depth" else name: best for name, best in sizes.items()}
    if wide := found.get("mortise_thickness"):
        found["mortise_thickness"] = replace(wide, value=wide.value - more)
    return found


def _picked(rule: Rule, seen: Sequence[Seen]) -> float:
    values = [best.value for _, best in seen]
    if rule.pick == "least":
        return min(values)
    if rule.pick == "most":
        return max(values)
    weights = [1 / best.accuracy**2 for _, best in seen]
    if max(values) - min(values) <= SAME:
        return values[0]
    return fsum(w * v for w, v in zip(weights, values, strict=True)) / fsum(weights)


def _drawn(sizes: Sizes, rule: Rule, value: float) -> float | None:
    """The key's new value, or None where it stays."""
    made = rule.made(sizes, value)
    return None if abs(made - _get(sizes.profile, rule.key)) <= SAME else made


def _get(profile: Profile, key: str) -> float:
    section, name, *index = key.split(".")
    value: Any = getattr(getattr(profile, section), name)
    return float(value[int(index[0])]) if index else float(value)


def _set(profile: Profile, key: str, value: float) -> Profile:
    section, name, *index = key.split(".")
    part = getattr(profile, section)
    whole: Any = value
    if index:
        several = list(getattr(part, name))
        several[int(index[0])] = value
        whole = tuple(several)
    changed: Profile = replace(profile, **{section: replace(part, **{name: whole})})
    return changed


SLAT_WIDTH = Rule(("slat",), "width", "mean", "slats.width", _plain)
"""The width that is solved for counts here, not the one that was asked for."""


def _whole_slats(table: Table, settled: Settled) -> list[Seen]:
    """The measured widths of slats; what a slat that the field cuts off is wider than drawn, all are."""
    seen = []
    for copy, best in _seen(table, settled, SLAT_WIDTH):
        body = table.part(copy[0]).body
        assert body is not None
        seen.append((copy, Best(best.value + table.spacing.width - body.bounds.height, best.accuracy)))
    return seen


def _even_slats(table: Table, profile: Profile, width: float) -> Profile:
    """Slats of a measured width hold it: the gap gives way, and no slat is added or left out."""
    if abs(width - table.spacing.width) <= SAME:
        return profile
    return replace(profile, slats=replace(profile.slats, hold="width", width=width, gap=table.spacing.gap))


def _uneven(rule: Rule, seen: Sequence[Seen]) -> list[Finding]:
    """A caution where copies that should be alike differ by more than the measuring."""
    ordered = sorted(seen, key=lambda one: one[1].value)
    (low, least), (high, most) = ordered[0], ordered[-1]
    allowed = CONTRADICTS * (least.accuracy**2 + most.accuracy**2) ** 0.5
    if most.value - least.value <= allowed:
        return []
    fields = {
        "size": rule.name.replace("_", " "), "more_of": named(high), "less_of": named(low), "pick": rule.pick,
    }  # fmt: skip
    key, apart = rule.key.rstrip(".012"), most.value - least.value
    return [Finding("uneven-copies", "caution", key, apart, (None, allowed), fields)]
