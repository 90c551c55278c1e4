"""The plan of work for packet.json: every operation with its pieces, figures, cautions and time."""

from collections.abc import Iterable
from math import degrees
from typing import Any

from templategen.catalogue import translated
from templategen.output.packet_json import number, numbers
from templategen.shop.rough import resaw_kerf
from templategen.shop.set_ups.cutters import spacers
from templategen.shop.set_ups.set_up import Check, Cut, Setting, SetUp
from templategen.table.profile.model import Profile
from templategen.work.operation import Planned, Worked
from templategen.work.plan import WorkPlan


def plan_json(plan: WorkPlan, profile: Profile) -> dict[str, Any]:
    """The plan: lengths in mm, angles in degrees, times in minutes but waits in hours; `shop` is what its machines
    and hands can do."""
    return {
        "tables": plan.tables,
        "days": plan.days,
        "minutes": number(plan.minutes, 3),
        "shop": _shop(profile),
        "operations": [_operation(one) for one in plan.operations],
    }


def _shop(profile: Profile) -> dict[str, Any]:
    shop = profile.shop
    return {
        "holding": number(shop.holding),
        "saw_kerf": number(shop.saw_kerf),
        "strip_end": number(shop.strip_end),
        "planing": number(shop.planing),
        "resaw_kerf": number(resaw_kerf(shop)),
        "mitre_reach": number(degrees(shop.mitre_reach)),
        "machines": list(shop.machines),
        "hand_tools": list(shop.hand_tools),
        "planer": numbers(shop.planer),
        "saw_depth": number(shop.saw_depth),
        "circular_saw_depth": number(shop.circular_saw_depth),
        "mitre_saw": numbers(shop.mitre_saw),
        "bandsaw_height": number(shop.bandsaw_height),
        "groove_cutter": numbers((shop.groove_cutter, *shop.groove_reach)),
        "router_bit": numbers((shop.router_bit, shop.bit_length, profile.jigs.pass_depth)),
    }


def _operation(one: Planned) -> dict[str, Any]:
    work = one.operation
    return {
        "number": one.number,
        "day": one.day,
        "operation": work.does,
        "way": work.way,
        "on": work.on,
        "works_on": translated(work.works_on),
        "pieces": [_pieces(piece) for piece in work.pieces],
        "tells": [translated(line) for line in work.tells],
        "measure": translated(work.measure),
        "cautions": [translated(line) for line in work.cautions],
        "persons": work.persons,
        "minutes": number(work.minutes, 3),
        "wait_hours": number(work.waits, 3),
        "jigs": list(work.jigs),
        **({"set_up": _set_up(work.set_up)} if work.set_up else {}),
        **({"step": work.step.number} if work.step else {}),
    }


def _pieces(piece: Worked) -> dict[str, Any]:
    return {
        "code": piece.code,
        "count": piece.count,
        "holds": piece.holds,
        "before": numbers(piece.before) if piece.before else None,
        "after": numbers(piece.after),
        **({"held": piece.held} if piece.held else {}),
    }


def _set_up(set_up: SetUp) -> dict[str, Any]:
    return {
        "number": set_up.number,
        "machine": set_up.machine,
        "cutter": set_up.cutter,
        "way": set_up.way,
        "needs": list(set_up.needs),
        "kerf_side": translated(set_up.kerf_side),
        "settings": _settings(set_up.settings),
        "cuts": [_cut(cut) for cut in set_up.cuts],
        "test_piece": translated(set_up.proof.test_piece),
        "checks": [_check(check) for check in set_up.proof.checks],
        "warnings": [translated(line) for line in set_up.warnings],
        **({"spacers": told} if (told := spacers(set_up)) else {}),
    }


def _settings(settings: Iterable[Setting]) -> list[dict[str, Any]]:
    return [
        {
            "name": one.name,
            "value": number(one.figure.value),
            "unit": one.figure.unit,
            "says": translated(one.says),
            "quantity": one.figure.quantity,
        }
        for one in settings
    ]


def _cut(cut: Cut) -> dict[str, Any]:
    lays = [
        {
            "code": lay.code,
            "pieces": lay.pieces,
            "worked": lay.worked,
            "up": lay.up,
            "against": lay.against,
            "stop_at": lay.stop_at,
            "swung": lay.swung,
        }
        for lay in cut.lays
    ]
    return {"settings": _settings(cut.settings), "lays": lays}


def _check(check: Check) -> dict[str, Any]:
    wanted = _settings([check.wanted]) if check.wanted else []
    return {
        "measure": translated(check.measure),
        "tolerance": _settings([check.tolerance])[0],
        "of": list(check.of),
        "wanted": wanted,
    }
