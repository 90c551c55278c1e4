"""Phrases that stand in several sentences: `{name:table}` says what the table `table` has under that field."""

PHRASES = {
    "advice": {
        "plain": "boards sawn on the quarter move about half as much",
        "rift": "boards sawn on the quarter move less",
        "quarter": "drier air or a calmer wood would move less",
    },
    "would": {
        "the rails' crossing": "thicker or wider rails, two rails instead of three, a smaller pole hole or a "
        "steel plate screwed across the lap would carry more",
        "the crossing of the ground cross": "a thicker or wider ground cross, or a smaller pole hole, would "
        "carry more",
        "the legs' tenons": "wider and thicker tenons, thicker legs, or legs further out would carry more",
    },
    "pick": {"least": "the least is taken", "most": "the most is taken", "mean": "their mean is taken"},
    "clear": {"yes": "clear of fingers and draining all year", "no": "not clear all year"},
}

EACH = {
    "choice": ("; ", "{count} of {width:mm} with gaps of {gap:mm} are {clear:clear}"),
    "sheet": (", ", "{wood} {size:mm}"),
    "depth": ("; ", "{deep:mm.2} for {parts}"),
}
"""What stands between several of a kind, and what each says: other numbers of slats, sheets, depths of cuts."""
