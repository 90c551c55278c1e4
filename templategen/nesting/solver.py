"""The solver of linear and whole-number programmes, silent and the same each time."""

from typing import Any


def quiet_solver() -> Any:
    """A fresh solver with an empty programme: one thread, a fixed seed, and not a word on standard output."""
    import highspy

    class Quiet(highspy.Highs):
        def enableCallbacks(self) -> None:  # noqa: N802 - the library's own name
            # The library greets when callbacks are enabled, which its constructor does.
            self.setOptionValue("output_flag", False)
            super().enableCallbacks()  # type: ignore[no-untyped-call]

    solver: Any = Quiet()  # type: ignore[no-untyped-call]
    solver.setOptionValue("threads", 1)
    solver.setOptionValue("random_seed", 1)
    return solver
