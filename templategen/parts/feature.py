"""Features: what is cut out of a blank."""

from dataclasses import dataclass, field

from templategen.errors import DesignError, Fault
from templategen.geometry.outline import Outline
from templategen.parts.kinds import KINDS, FeatureKind, Kind


@dataclass(frozen=True, slots=True)
class Feature:
    """Wood taken away: the prism of `outline`, in the frame of the face named, `depth` into the wood.

    Every feature removes. A tongue or tenon is what the two rebates of that name leave standing, so it
    shows as a feature of the top and another of the bottom face. A `round-over` takes only what lies
    outside the quarter circle of radius `depth` along the rim, a `chamfer` only half of its prism.

    `mates` names the parts that meet the wood here; `clearance` is the total play across the joint in mm
    and `end_clearance` the play at its bottom. `floor` is how far under the face the wood lies whose arris is
    taken, where other work has lowered it first; `depth` counts from there.
    `operation` is the trade's word for making it.

    Raises:
        DesignError: no such kind.
    """

    kind: FeatureKind
    face: str
    outline: Outline
    depth: float
    operation: str
    mates: tuple[str, ...] = field(default=(), compare=False)
    clearance: float = 0.0
    end_clearance: float = 0.0
    floor: float = 0.0

    def __post_init__(self) -> None:
        if self.kind not in KINDS:
            raise DesignError(Fault("feature", f'"{self.kind}" is no kind of work', f"try {', '.join(KINDS)}"))

    @property
    def traits(self) -> Kind:
        """What its kind is called, drawn as, and takes."""
        return KINDS[self.kind]

    @property
    def is_flat(self) -> bool:
        """Whether it is cut into the top or the bottom rather than a side."""
        return self.face in ("top", "bottom")
