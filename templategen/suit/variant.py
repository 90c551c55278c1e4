"""A variant: a value for each size that may change, and the profile that has them."""

from collections.abc import Iterator, Sequence
from math import degrees

from templategen.table.profile.change import changed_as_read
from templategen.table.profile.model import Profile
from templategen.table.profile.wish import Variation
from templategen.units import MM_PER_INCH

Value = float | str
"""A length in mm, an angle in degrees, a plain number or a word."""

Variant = tuple[Value, ...]
"""A value for each variation, in their order."""

INCH = float(MM_PER_INCH)

STEPS = {"mm": 1.0, "in": INCH / 16}
"""Lengths are varied in whole millimetres, or in sixteenths of an inch."""

ANGLE_STEP, STEPS_OF_A_NUMBER = 0.1, 100
"""Angles are varied in tenths of a degree, plain numbers in hundredths of their range."""

BEYOND = 0.1
"""What is spread over a range falls so much of it beyond, and then on its ends: there the best often lies."""


def asked(profile: Profile) -> Variant:
    """The values that the profile has."""
    return tuple(_held(profile, one) for one in profile.suit.variations)


def _held(profile: Profile, variation: Variation) -> Value:
    section, _, name = variation.path.partition(".")
    value: Value = getattr(getattr(profile, section), name)
    return degrees(float(value)) if variation.kind == "angle" else value


def step_of(profile: Profile, variation: Variation) -> float:
    """The least by which a size is changed."""
    if variation.kind == "length":
        return STEPS[profile.units]
    if variation.kind == "angle":
        return ANGLE_STEP
    if variation.path == "top.segments":
        return float(2 * profile.top.rails)
    return 1.0 if variation.kind == "count" else (variation.high - variation.low) / STEPS_OF_A_NUMBER


def at_share(profile: Profile, variation: Variation, share: float) -> Value:
    """The value so far along its range, 0 to 1, on the grid of its steps."""
    if variation.words:
        return variation.words[min(int(share * len(variation.words)), len(variation.words) - 1)]
    return settled(profile, variation, variation.low + share * (variation.high - variation.low))


def settled(profile: Profile, variation: Variation, value: float) -> float:
    """The nearest value on the grid of steps that the range holds."""
    step = step_of(profile, variation)
    steps = round(value / step)
    if steps * step > variation.high + 1e-9:
        steps -= 1
    if steps * step < variation.low - 1e-9:
        steps += 1
    return round(min(max(steps * step, variation.low), variation.high), 6)


def profile_of(profile: Profile, variant: Variant) -> Profile:
    """The profile with the variant's values.

    Raises:
        ProfileError: values that don't go together.
    """
    return changed_as_read(profile, dict(changes(profile, variant)))


def changes(profile: Profile, variant: Variant) -> Iterator[tuple[str, Value]]:
    """The keys whose values differ from those asked, as they are written in the profile's units."""
    for variation, value, before in zip(profile.suit.variations, variant, asked(profile), strict=True):
        if value != before:
            yield variation.path, written(profile, variation, value)


def written(profile: Profile, variation: Variation, value: Value) -> Value:
    """A value as a profile in those units holds it bare."""
    if isinstance(value, str):
        return value
    plain = round(value / INCH if variation.kind == "length" and profile.units == "in" else value, 6)
    return int(plain) if plain == int(plain) else plain


def distance(profile: Profile, variant: Variant) -> float:
    """How far a variant is from what was asked: the mean of the shares of each range that it has moved, 0 to 1."""
    return between(profile, variant, asked(profile))


def between(profile: Profile, one: Variant, other: Variant) -> float:
    """The same of any two."""
    pairs = zip(profile.suit.variations, one, other, strict=True)
    moved = [_moved(variation, value, before) for variation, value, before in pairs]
    return round(sum(moved) / max(1, len(moved)), 6)


def _moved(variation: Variation, value: Value, before: Value) -> float:
    if isinstance(value, str) or isinstance(before, str):
        return float(value != before)
    return abs(value - before) / (variation.high - variation.low)


def evenly_spread(profile: Profile, count: int) -> Iterator[Variant]:
    """So many variants spread evenly over all ranges, ends too: Halton's sequence (1960), a prime for each size."""
    variations = profile.suit.variations
    for number in range(1, count + 1):
        spread = (_halton(number, prime) * (1 + 2 * BEYOND) - BEYOND for prime in _primes(len(variations)))
        shares = [min(max(share, 0.0), 1.0) for share in spread]
        yield tuple(at_share(profile, one, share) for one, share in zip(variations, shares, strict=True))


def _halton(number: int, base: int) -> float:
    share, digit = 0.0, 1.0
    while number:
        digit /= base
        number, rest = divmod(number, base)
        share += rest * digit
    return share


def _primes(count: int) -> Sequence[int]:
    found: list[int] = []
    number = 2
    while len(found) < count:
        if all(number % prime for prime in found):
            found.append(number)
        number += 1
    return found
