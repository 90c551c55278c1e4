"""Written numbers: fixed digits, never minus nought."""


def digits(value: float, places: int = 6) -> str:
    """The number with at most `places` decimals, trailing noughts trimmed."""
    text = f"{value:.{places}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def rounded(value: float, places: int) -> float:
    """The number rounded to `places` decimals, with -0 as 0."""
    return round(value, places) + 0.0
