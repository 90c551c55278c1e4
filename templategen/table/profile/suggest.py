"""The nearest known name to one that is not known."""

from collections.abc import Sequence

from templategen.catalogue import translated, worded


def nearest(word: str, known: Sequence[str]) -> tuple[str, ...]:
    """The known names that hold `word` as one of their words, or else the one most like it, or none."""
    import difflib

    plain = word[:80].casefold().strip()
    holding = tuple(name for name in known if plain in name.casefold().replace("_", " ").split())
    if holding:
        return holding[:3]
    by_plain = {name.casefold(): name for name in reversed(known)}
    return tuple(by_plain[name] for name in difflib.get_close_matches(plain, list(by_plain), 1, 0.6))


def did_you_mean(word: str, known: Sequence[str], before: str = "", after: str = "") -> str:
    """`did you mean slats.gap?`, or the known names, or nothing when there are none."""
    close = nearest(word, known)
    if close:
        names = translated(" or ").join(f"{before}{name}{after}" for name in close)
        return worded("did you mean {names}?", names=names)
    return worded("known here: {names}", names=", ".join(known[:12])) if known else ""
