"""Templates, cut lists and proofs of fit for round slatted outdoor tables in solid wood.

From Python, the same stages as the commands::

    import templategen

    table = templategen.build_table(templategen.read_profile("profiles/towpath-dining.toml"))
    findings = templategen.check_table(table)
    wider = table.with_(diameter=1400)
    templategen.write_packet(templategen.make_packet(wider.profile), "packet")

In a notebook a table, a part, a drawing and a layout show themselves as pictures. Whatever is refused is a
`TemplategenError` whose `faults` say where, what was found and what would do.
"""

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from templategen.checks.finding import Finding
    from templategen.checks.run import check_table
    from templategen.drawing.drawing import Drawing
    from templategen.errors import (
        DesignError,
        Fault,
        GeometryError,
        OutputError,
        ProfileError,
        StockError,
        TemplategenError,
        UnitError,
    )
    from templategen.packet.lay_out import LaidStock, lay_out
    from templategen.packet.make import Packet, make_packet
    from templategen.packet.part_files import part_dxf, part_svg
    from templategen.packet.several import Packets, make_packets
    from templategen.packet.write import write_packet
    from templategen.parts.part import Part
    from templategen.table.assembly import Table, build_table
    from templategen.table.profile.change import profile_text
    from templategen.table.profile.model import Profile
    from templategen.table.profile.read import profile_from_text, read_profile

__version__ = "0.2.0"

_HOMES = {
    "checks.finding": ("Finding",),
    "checks.run": ("check_table",),
    "drawing.drawing": ("Drawing",),
    "errors": (
        "DesignError", "Fault", "GeometryError", "OutputError", "ProfileError", "StockError", "TemplategenError",
        "UnitError",
    ),
    "packet.lay_out": ("LaidStock", "lay_out"),
    "packet.make": ("Packet", "make_packet"),
    "packet.part_files": ("part_dxf", "part_svg"),
    "packet.several": ("Packets", "make_packets"),
    "packet.write": ("write_packet",),
    "parts.part": ("Part",),
    "table.assembly": ("Table", "build_table"),
    "table.profile.change": ("profile_text",),
    "table.profile.model": ("Profile",),
    "table.profile.read": ("profile_from_text", "read_profile"),
}  # fmt: skip
"""The public names by the module each lives in."""

_WHERE = {name: f"templategen.{home}" for home, names in _HOMES.items() for name in names}

__all__ = [
    "DesignError", "Drawing", "Fault", "Finding", "GeometryError", "LaidStock", "OutputError", "Packet", "Packets",
    "Part", "Profile", "ProfileError", "StockError", "Table", "TemplategenError", "UnitError", "__version__",
    "build_table", "check_table", "lay_out", "make_packet", "make_packets", "part_dxf", "part_svg",
    "profile_from_text", "profile_text", "read_profile", "write_packet",
]  # fmt: skip


def __getattr__(name: str) -> Any:
    """Brings a name in when it is first asked for, so that importing the package costs nothing."""
    home = _WHERE.get(name)
    if home is None:
        raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
    found = getattr(import_module(home), name)
    if home != "templategen.errors":
        import_module("templategen.show").attach()
    return found


def __dir__() -> list[str]:
    """The public names, for completion in a notebook."""
    return list(__all__)
