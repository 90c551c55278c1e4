"""Templates, cut lists and proofs of fit for round slatted outdoor tables in solid wood.

From Python, the same stages as the commands::

    import templategen

    profile = templategen.read_profile("profiles/towpath-dining.toml")
    table = templategen.build_table(profile)
    findings = templategen.check_table(table)
    packet = templategen.make_packet(profile)
    templategen.write_packet(packet, "packet")

In a notebook a table, a part, a drawing and a layout show themselves as pictures.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from templategen.checks.run import check_table
    from templategen.packet.make import make_packet
    from templategen.packet.write import write_packet
    from templategen.table.assembly import build_table
    from templategen.table.profile.read import profile_from_text, read_profile

__version__ = "0.1.0"

__all__ = [
    "__version__",
    "build_table",
    "check_table",
    "make_packet",
    "profile_from_text",
    "read_profile",
    "write_packet",
]

_HOMES = {
    "build_table": "templategen.table.assembly",
    "check_table": "templategen.checks.run",
    "make_packet": "templategen.packet.make",
    "profile_from_text": "templategen.table.profile.read",
    "read_profile": "templategen.table.profile.read",
    "write_packet": "templategen.packet.write",
}


def __getattr__(name: str) -> Any:
    """Brings a function in when it is first asked for, so that importing the package costs nothing."""
    home = _HOMES.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(home), name)
    import_module("templategen.show").attach()
    return found
