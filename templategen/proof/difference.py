"""What a proof finds: a difference between a packet's record and its files, and the sum of what was proved."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from templategen.catalogue import figured


@dataclass(frozen=True, slots=True)
class Difference:
    """One thing in `file` that isn't as the record says; `where` is the part, page or entry, "" for all of it."""

    file: str
    where: str
    says: str

    def __str__(self) -> str:
        return ": ".join(text for text in (self.file, self.where, figured(self.says)) if text)


@dataclass(frozen=True, slots=True)
class Outcome:
    """The outcome. `measured` counts files by how they were proved; `work` counts, by kind of feature and
    kind of face (top, bottom, edge, end), how often one was measured in a file; `unread` where the record
    breaks its schema, so that nothing was measured by it."""

    files: int
    differences: tuple[Difference, ...]
    measured: Mapping[str, int] = field(default_factory=dict)
    work: Mapping[tuple[str, str], int] = field(default_factory=dict)
    unread: bool = False

    @property
    def true(self) -> bool:
        """Whether every file is as the record says."""
        return not self.differences
