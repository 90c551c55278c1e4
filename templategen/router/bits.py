"""Bits: how wide, how deep they reach, how deep one pass goes."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import ceil

from templategen.geometry.tolerance import MET
from templategen.table.profile.model import Profile


@dataclass(frozen=True, slots=True)
class Bit:
    """A straight bit: its `diameter`, its cutting `length` and the depth of one `step`, mm."""

    diameter: float
    length: float
    step: float

    @property
    def radius(self) -> float:
        """Half its width."""
        return self.diameter / 2

    def reaches(self, depth: float) -> bool:
        """Whether it cuts so deep at all."""
        return depth <= self.length + MET

    def passes(self, depth: float) -> int:
        """In how many passes it goes down, each as deep as the others."""
        return max(1, ceil(depth / self.step - MET))


def bits_of(profile: Profile) -> tuple[Bit, ...]:
    """The maker's bits in the order of preference: the shop's own first."""
    shop, jigs = profile.shop, profile.jigs
    return (Bit(shop.router_bit, shop.bit_length, jigs.pass_depth), *(Bit(*row) for row in profile.router.bits))


def longest(bits: Iterable[Bit]) -> float:
    """The deepest that any of the bits reaches, mm."""
    return max(bit.length for bit in bits)
