"""Runs the packing solver in a process of its own; started as a script, it imports nothing of ours.

Each line on standard input is a request, each line on standard output an answer, both JSON. A request has a `number`,
`items` (rings, turns, copies), `bins`, `spacing`, `objective`, `mode`, `seconds` and `options`; an answer that number
and a `layout` (bins with their parts), or `done` when a request has been worked off. Lengths mm, angles degrees.
"""

import json
import os
import signal
import sys
from queue import SimpleQueue
from threading import Thread
from time import monotonic
from typing import Any

GRACE = 2.0
"""Seconds past its life after which the process is ended by the system, whatever it does."""


def main() -> None:
    """Answers requests until standard input ends; the argument is its life in seconds."""
    end = monotonic() + float(sys.argv[1])
    _mortal(float(sys.argv[1]) + GRACE)
    waiting: SimpleQueue[str] = SimpleQueue()
    Thread(target=_listen, args=(waiting,), daemon=True).start()
    # The solver is loaded while the first request is still being written.
    import packingsolver.irregular as solver

    while True:
        request = json.loads(waiting.get())
        _answer(solver, request, end)
        _say({"done": request["number"]})


def _listen(waiting: SimpleQueue[str]) -> None:
    """Queues requests; when the one who asks is gone, so is this process."""
    for line in sys.stdin:
        waiting.put(line)
    os._exit(0)


def _mortal(seconds: float) -> None:
    """Lets the system end this process in time, even inside a library that never comes back, and with no core."""
    if hasattr(signal, "setitimer"):
        signal.signal(signal.SIGALRM, signal.SIG_DFL)
        signal.setitimer(signal.ITIMER_REAL, seconds)
        signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        import resource

        resource.setrlimit(resource.RLIMIT_CORE, (0, 0))
    except (ImportError, OSError, ValueError):
        pass


def _answer(solver: Any, request: dict[str, Any], end: float) -> None:
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
        told[0] += _tell(request, output.solution)

    parameters.new_solution_callback = found
    output = solver.optimize(_instance(solver, request), parameters)
    if not told[0]:
        _tell(request, output.solution)


def _tell(request: dict[str, Any], solution: Any) -> int:
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
    _say({"number": request["number"], "layout": laid})
    return 1


def _instance(solver: Any, request: dict[str, Any]) -> Any:
    builder = solver.InstanceBuilder()
    builder.set_objective(getattr(solver.Objective, request["objective"]))
    builder.set_item_item_minimum_spacing(request["spacing"])
    for kind in request["bins"]:
        room = solver.build_rectangle(*kind["box"])
        edge = kind.get("edge", 0.0)
        number = builder.add_bin_type(room, cost=kind["cost"], copies=kind["copies"], item_bin_minimum_spacing=edge)
        for points in kind["defects"]:
            defect = builder.add_defect(number, 0, solver.ShapeWithHoles(solver.build_shape(points), []))
            builder.set_item_defect_minimum_spacing(number, defect, 0.0)
    for item in request["items"]:
        shape = solver.ShapeWithHoles(solver.build_shape(item["ring"]), [])
        turns = [(turn, turn, over) for turn, over in item["turns"]]
        builder.add_item_type(shape, copies=item["copies"], allowed_rotations=turns, profit=item.get("profit"))
    return builder.build()


def _say(answer: dict[str, Any]) -> None:
    sys.stdout.write(json.dumps(answer) + "\n")
    sys.stdout.flush()


if __name__ == "__main__":
    main()
