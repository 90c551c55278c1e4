"""What the words of the trade on this page mean, as we use them."""

from templategen.catalogue import translated
from templategen.english import tag
from templategen.output.page.content import Grid, Sheet

WORDS = {
    "apex": "the inner end of a field of slats, where two rails meet",
    "arris": "the sharp edge between two faces",
    "barrel nut": "a round nut that lies across the wood, its thread through its middle; also cross dowel",
    "batten": "a straight strip that guides a saw or a router",
    "blank": "a piece sawn out with its allowances, before it has its sizes",
    "bush": "a collar under a router's base that follows a template",
    "caul": "a shaped block that lets a clamp press square to a joint",
    "cheek": "the wood beside a groove, or the flat of a tenon",
    "counterbore": "a wider, shallow bore that takes a bolt's head",
    "cup": "a board's bend across its width",
    "dry fit": "everything put together without glue",
    "face side": "the first face planed flat; whatever is measured through the thickness starts there",
    "field": "the space between two rails and the rim",
    "gauge's reading": "what a mitre gauge shows: the angle between cut and edge, 90° less what the saw shows",
    "go": "glue spread and clamped once, within its open time",
    "ground cross": "the lapped rails that the legs stand on",
    "kerf": "what a saw takes",
    "lap": "two rails crossing in one thickness, each cut away for the other",
    "letter": "what both sides of a joint are marked with",
    "mitre": "a joint of two ends cut at half the angle between them",
    "open time": "how long glue may lie before the joint must be closed",
    "quarter sawn": "growth rings square to the face; plain sawn, along it",
    "rebate": "a step cut along an edge or an end",
    "riving knife": "the blade behind a saw that keeps the cut open",
    "saw flatwise": "to saw a thick board into two thin ones",
    "set-up": "a machine as it is set for one cut, for all pieces that take it",
    "shoulder": "the face that a tongue or a tenon stands out from",
    "spline": "a loose strip of wood glued into slots across a mitre",
    "story stick": "a stick that carries marks, so that nothing is measured twice",
    "tab": "wood that a router leaves so that a part stays on its sheet",
    "tenon": "the end of a part that enters a mortise",
    "tongue": "the end of a slat, or a rail, that enters a groove",
    "trammel": "a beam that swings a router round a pin",
    "winding sticks": "two straight sticks, sighted over, that show a twist",
}


def glossary() -> Sheet:
    """Each word with its meaning; in another language with the word there and what it means."""
    rows = tuple((word, translated(f"{word}: {means}").removeprefix(f"{word}: ")) for word, means in WORDS.items())
    heading = ("word", translated("what we mean by it"))
    return Sheet("words", "Words used here", grids=(Grid(heading, rows, language=tag(of_catalogue=True)),))
