"""The shares of a packet that can be asked for one by one."""

from collections.abc import Iterable

from templategen.catalogue import fault_of
from templategen.errors import OutputError

SHARES = ("parts", "stock", "paper", "jigs", "lists", "page", "customer")
"""What can be made, in the order it is made. `packet.json` comes with every share."""


def chosen(only: Iterable[str] | None) -> tuple[str, ...]:
    """The shares named, or all of them.

    Raises:
        OutputError: a share that isn't known.
    """
    wanted = tuple(only) if only is not None else SHARES
    for name in wanted:
        if name not in SHARES:
            raise OutputError(
                fault_of(
                    "--only",
                    '"{name}" is no share of a packet',
                    "try one or more of {names}",
                    name=name,
                    names=", ".join(SHARES),
                )
            )
    if not wanted:
        raise OutputError(
            fault_of("--only", "nothing is named", "try one or more of {names}", names=", ".join(SHARES))
        )
    return tuple(share for share in SHARES if share in wanted)
