"""The shares of a packet that can be asked for one by one."""

from collections.abc import Iterable

from templategen.catalogue import fault_of
from templategen.errors import OutputError

SHARES = ("parts", "stock", "paper", "jigs", "lists", "page", "customer")
"""What can be made, in the order it is made. `packet.json` comes with every share."""


def chosen(only: Iterable[str] | None, shares: tuple[str, ...] = SHARES) -> tuple[str, ...]:
    """Those of the `shares` that are named, or all of them, in their order.

    Raises:
        OutputError: a share that isn't known.
    """
    wanted, names = shares if only is None else tuple(only), ", ".join(shares)
    for name in wanted:
        if name not in shares:
            raise OutputError(fault_of(
                "--only", '"{name}" is no share of this packet', "try one or more of {names}", name=name, names=names
            ))  # fmt: skip
    if not wanted:
        raise OutputError(fault_of("--only", "nothing is named", "try one or more of {names}", names=names))
    return tuple(share for share in shares if share in wanted)
