"""The ways of working a ring, the least trouble first."""

from dataclasses import dataclass

from templategen.fit.plan import Closing


@dataclass(frozen=True, slots=True)
class Way:
    """A way of working: what it is called, what the maker does, and which joints take up what is left open."""

    name: Closing
    title: str
    does: str
    takes_up: str


WAYS = (
    Way(
        "stop",
        "all to a stop",
        "set the saw once, cut every segment to one stop, draw the whole ring up at once",
        "all joints alike",
    ),
    Way(
        "scrap",
        "scrap ring first",
        "cut a ring of scrap, measure its last gap, turn the cut by layers of foil at the fence, then all to a stop",
        "all joints alike",
    ),
    Way(
        "measure",
        "last segment to measure",
        "glue up all but one, scribe the last segment over the opening, saw it along that line and plane it to fit",
        "the two joints of the last segment",
    ),
    Way(
        "halves",
        "two halves trimmed straight",
        "glue up two halves, trim both ends of each along one straight edge, then join them",
        "the two joints between the halves",
    ),
)


def way_of(name: str) -> Way:
    """The way called so."""
    return next(way for way in WAYS if way.name == name)
