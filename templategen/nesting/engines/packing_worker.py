"""What the packing solver answers, for `worker.py`; it imports nothing of ours.

A request holds `items` (rings, turns, copies), `bins`, `spacing`, `objective`, `mode`, `seconds` and `options`.
"""

from collections.abc import Callable
from time import monotonic
from typing import Any

import packingsolver.irregular as solver

Say = Callable[[dict[str, Any]], None]


def answer(request: dict[str, Any], end: float, say: Say) -> None:
    """Says one layout after another until the time is up."""
    parameters = solver.OptimizeParameters()
    parameters.messages_to_stdout = False
    parameters.verbosity_level = 0
    parameters.time_limit = max(0.05, min(request["seconds"], end - monotonic()))
    parameters.optimization_mode = getattr(solver.OptimizationMode, request["mode"])
    for name, value in request["options"].items():
        setattr(parameters, name, value)
    told = [0]

    def found(output: Any) -> None:
        told[0] += _tell(request, output.solution, say)

    parameters.new_solution_callback = found
    output = solver.optimize(_instance(request), parameters)
    if not told[0]:
        _tell(request, output.solution, say)


def _tell(request: dict[str, Any], solution: Any, say: Say) -> int:
    """Passes a solution on; one that leaves parts over only where the request allows it."""
    if not solution.number_of_items() or not (request["partial"] or solution.full()):
        return 0
    laid = []
    for index in range(solution.number_of_different_bins()):
        held = solution.bin(index)
        parts = [
            (one.item_type_id, one.bl_corner.x, one.bl_corner.y, one.angle, bool(one.mirror)) for one in held.items
        ]
        laid.append({"bin": held.bin_type_id, "copies": held.copies, "parts": parts})
    say({"number": request["number"], "layout": laid})
    return 1


def _instance(request: dict[str, Any]) -> Any:
    builder = solver.InstanceBuilder()
    builder.set_objective(getattr(solver.Objective, request["objective"]))
    builder.set_item_item_minimum_spacing(request["spacing"])
    for kind in request["bins"]:
        room = solver.build_rectangle(*kind["box"])
        edge = kind.get("edge", 0.0)
        number = builder.add_bin_type(room, cost=kind["cost"], copies=kind["copies"], item_bin_minimum_spacing=edge)
        for points in kind["faults"]:
            fault = builder.add_defect(number, 0, solver.ShapeWithHoles(solver.build_shape(points), []))
            builder.set_item_defect_minimum_spacing(number, fault, 0.0)
    for item in request["items"]:
        shape = solver.ShapeWithHoles(
            solver.build_shape(item["ring"]), [solver.build_shape(hole) for hole in item["holes"]]
        )
        turns = [(turn, turn, over) for turn, over in item["turns"]]
        builder.add_item_type(shape, copies=item["copies"], allowed_rotations=turns, profit=item.get("profit"))
    return builder.build()
