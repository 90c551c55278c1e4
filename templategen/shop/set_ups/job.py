"""The job: one kind of cut on one kind of part, before jobs that share a setting are brought together."""

from dataclasses import dataclass

from templategen.shop.set_ups.set_up import Lay, Operation, Proof, Setting


@dataclass(frozen=True, slots=True)
class Job:
    """`shared` are the settings that make a set-up, `own` those that are set anew while it stands; `in_strip` that it
    is done before pieces are cut off their strip, `by_hand` that no machine makes the cut."""

    operation: Operation
    cutter: str
    shared: tuple[Setting, ...]
    own: tuple[Setting, ...]
    lays: tuple[Lay, ...]
    kerf_side: str
    proof: Proof
    warnings: tuple[str, ...] = ()
    in_strip: bool = False
    by_hand: bool = False
