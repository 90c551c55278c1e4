"""The gluing plan for packet.json."""

from typing import Any

from templategen.output.packet_json import number, numbers
from templategen.shop.gluing.plan import GluingPlan, GluingStep


def gluing_json(plan: GluingPlan) -> dict[str, Any]:
    """The glue, its times, and each step; areas in mm2, times in minutes, forces in N."""
    return {
        "glue": plan.glue.name,
        "says": plan.glue.says,
        "water": plan.glue.water,
        "open_minutes": number(plan.open_time, 3),
        "closed_minutes": number(plan.closed_time, 3),
        "clamped_hours": numbers(plan.clamped),
        "in_halves": plan.in_halves,
        "grams": number(plan.grams, 3),
        "steps": [_step(step) for step in plan.steps if not step.dry],
    }


def _step(step: GluingStep) -> dict[str, Any]:
    return {
        "step": step.number,
        "joints": dict(step.joints),
        "area_mm2": number(step.area, 3),
        "grams": number(step.grams, 3),
        "minutes": number(step.minutes, 3),
        "whole_minutes": number(step.whole, 3),
        "goes": step.goes,
        "clamps": step.hold.clamps,
        "cauls": step.hold.cauls,
        "band": step.hold.band,
        "force_n": [number(force, 1) for force in step.hold.force],
        "marks": {mark.letter: list(mark.copies) for mark in step.marks},
        "mind": list(step.advice),
    }
