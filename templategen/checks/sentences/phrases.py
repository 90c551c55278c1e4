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
        "the legs' bolts": "thicker bolts with wider washers, or thicker legs, would carry more",
        "the legs' pegs": "thicker pegs higher up, longer tenons or thicker legs would carry more",
        "the legs' tenons": "wider and thicker tenons, thicker legs, or legs further out would carry more",
    },
    "case": {
        "lean": "somebody leans on the rim",
        "lean between": "somebody leans on the rim",
        "lift": "two lift the table by the rim",
        "drag": "the table is dragged by one edge",
        "sit": "somebody sits down on the rim",
        "sit opposite": "two sit down on the rim, each",
    },
    "side": {"left": "left end", "right": "right end"},
    "pick": {"least": "the least is taken", "most": "the most is taken", "mean": "their mean is taken"},
}

EACH = {
    "choice": ("; ", "{count} of {width:mm} with gaps of {gap:mm}"),
    "sheet": (", ", "{wood:word} {size:mm}"),
    "depth": ("; ", "{deep:mm.2} for {parts}"),
    "both": (" and ", "{one:word}"),
    "named": (", ", "{one:word}"),
    "ways": ("; or ", "{one:both}"),
}
"""What stands between several of a kind, and what each says: other numbers of slats, sheets, depths of cuts, words of
ours, ways of working each with all tools that it needs."""
