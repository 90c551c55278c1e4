"""The keys by which the maker picks a way of working; "auto" takes the first that the shop's tools can do."""

from templategen.table.profile.choices import ClosingWay, PlainWay, WorkWay
from templategen.table.profile.key import Key, choice, section


def _way(name: str, doc: str) -> Key:
    return choice(name, "auto", WorkWay if name in ("grooves", "slots") else PlainWay, doc)


WORK = section(
    "work",
    choice("closing", "auto", ClosingWay, "of the ring, as lists/closing.csv compares them"),
    _way("planing", "faces, edges and thickness"),
    _way("ripping", "to width"),
    _way("ends", "square ends and mitres"),
    _way("laps", "the trenches of the rails"),
    _way("grooves", "of rim and rails"),
    _way("slots", "for the splines"),
    _way("tongues", "and tenons"),
    _way("mortises", "for the legs"),
    _way("holes", "for a parasol's pole"),
    _way("edges", "rounded and chamfered"),
    _way("rounding", "the ring sawn round"),
)
