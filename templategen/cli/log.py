"""The log of a command: `-v` tells each stage and its time on standard error."""

import sys
import warnings
from collections.abc import Callable
from typing import ParamSpec

import click

P = ParamSpec("P")


def with_log(command: Callable[P, None]) -> Callable[P, None]:
    """Gives a command the option `-v`."""
    told = "Tell on standard error what is worked out and how long each stage takes."
    return click.option("-v", "--verbose", is_flag=True, expose_value=False, callback=_begin, help=told)(command)


def _begin(_context: click.Context, _option: click.Parameter, wanted: bool) -> None:
    import logging

    if not wanted:  # a maker can do nothing about what the geometry library says of a division
        warnings.filterwarnings("ignore", category=RuntimeWarning, module=r"shapely\.")
    log = logging.getLogger("templategen")
    log.handlers = []
    log.setLevel(logging.INFO if wanted else logging.NOTSET)
    if wanted:
        handler = logging.StreamHandler(sys.stderr)
        handler.setFormatter(logging.Formatter("%(relativeCreated)8.0f ms  %(message)s"))
        log.addHandler(handler)


def log_wanted() -> bool:
    """Whether `-v` was given: then no bar is drawn between its lines."""
    import logging

    return logging.getLogger("templategen").isEnabledFor(logging.INFO)
