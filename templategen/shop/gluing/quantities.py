"""How the gluing plan's figures come about."""

from collections import Counter
from collections.abc import Iterator

from templategen.catalogue import translated, worded
from templategen.checks.assembly import SECONDS_A_FACE
from templategen.checks.describe import said
from templategen.explain.book import Book, write_total
from templategen.explain.given import because
from templategen.fit.plan import Plan, Step
from templategen.joinery.joint import Joint
from templategen.shop.gluing.hold import glued_area
from templategen.shop.gluing.plan import SIZING
from templategen.table.assembly import Table
from templategen.wood.glue import DOUBLING, GLUES, ROOM

STAYS = {
    "open": ("least minutes that the class stays open, at {room:g} °C", "minutes that the glue stays open"),
    "closed": (
        "least minutes that the class stays closed, at {room:g} °C",
        "minutes that the glue stays closed",
    ),
}
"""What a class of glue does, and the glue at hand."""


def write_gluing(book: Book, table: Table, plan: Plan) -> None:
    """Open time, and each step's area, glue and minutes."""
    _times(book, table)
    source = "makers need 20 to 40 s to spread a face and bring it home; the middle (rule of thumb)"
    book.given("glue.seconds_a_face", "time to spread glue on a face and bring it home", SECONDS_A_FACE, "s", source)
    source = "assumed: a thin first coat on faces that lean into end grain"
    if GLUES[table.profile.shop.glue].sizes:
        book.given("glue.sizing", "glue for sizing a mitre, as a share of the spread", SIZING, "", source)
    steps = [(number, step) for number, step in enumerate(plan.steps, 1) if step.glued]
    for number, step in steps:
        _step(book, table, f"glue.step_{number}", step)
    addends = [(f"glue.step_{number}.grams", "") for number, _ in steps]
    write_total(book, "glue.grams", "glue for the whole table", "g", addends)


def _times(book: Book, table: Table) -> None:
    """The least of the class by the workshop's warmth, or what the maker read on the tin."""
    profile, glue = table.profile, GLUES[table.profile.shop.glue]
    word = because(profile, "shop.glue")
    rule = worded("times about halve for every {degrees:g} °C more (rule of thumb)", degrees=DOUBLING)
    for name, least in (("open", glue.open_time[0]), ("closed", glue.closed_time[0])):
        source = f"{word}: {translated(glue.source)} ({translated(glue.status)})"
        least_says, says = STAYS[name]
        book.given(f"glue.{name}_time_of_class", worded(least_says, room=ROOM), least, "min", source)
        if name == "open" and profile.shop.open_time:
            book.add("glue.open_time", says, "min", "t", "from the tin", t="shop.open_time")
        else:
            terms = {"least": f"glue.{name}_time_of_class", "warmth": "shop.glue_temperature"}
            formula = f"least * 2 ** (({ROOM:g} - warmth) / {DOUBLING:g})"
            book.add(f"glue.{name}_time", says, "min", formula, rule, **terms)


def _step(book: Book, table: Table, name: str, step: Step) -> None:
    """Area by kinds of joint, glue for it, and the time it takes."""
    joints = [table.joints[number] for number in step.glued]
    groups = Counter(_area_name(book, table, joint) for joint in joints)
    sizes = GLUES[table.profile.shop.glue].sizes
    sized = {_area_name(book, table, joint) for joint in joints if sizes and joint.traits.sized}
    terms = {f"a{place}": area for place, area in enumerate(groups)}
    sums = [f"{count} * a{place}" for place, count in enumerate(groups.values())]
    does = {"does": step.does}
    book.add(f"{name}.area", worded("what is glued in: {does}", **does), "mm2", " + ".join(sums), "", **terms)
    mitres = [f"{count} * a{place}" for place, (area, count) in enumerate(groups.items()) if area in sized]
    first = {f"a{place}": area for place, area in enumerate(groups) if area in sized}
    terms = {"area": f"{name}.area", "spread": "shop.spread"}
    if mitres:
        formula = f"(area + sizing * ({' + '.join(mitres)})) / 1e6 * spread"
        terms |= {"sizing": "glue.sizing", **first}
    else:
        formula = "area / 1e6 * spread"
    book.add(f"{name}.grams", worded("glue for: {does}", **does), "g", formula, "spread on one side", **terms)
    says = worded("longest stretch from the first glue to the last part home in: {does}", **does)
    source = said("two faces to a joint, {count:# joint} in one go", count=step.at_once)
    book.add(f"{name}.minutes", says, "min", f"{step.at_once} * 2 * s / 60", source, s="glue.seconds_a_face")


def _area_name(book: Book, table: Table, joint: Joint) -> str:
    """The quantity of a joint's glued area: of its kind's the one that is this large."""
    area = glued_area(table, joint)
    return min(_candidates(book, joint), key=lambda name: abs(book.value(name) - area))


def _candidates(book: Book, joint: Joint) -> Iterator[str]:
    one, other = joint.parts
    match joint.kind:
        case "mitre":
            yield from (q.name for q in book if q.name.startswith("joint.mitre.") and q.name.endswith(".glued"))
        case "spline":
            yield f"part.{other}.area"
        case "rail-tenon":
            yield from (q.name for q in book if q.name.startswith("tenon.") and q.name.endswith(".contact"))
        case "leg-tenon" | "foot":
            yield f"joint.{joint.kind.replace('-', '_')}.contact"
        case _:
            cross = "top" if one.startswith("RAIL") else "base"
            yield from (
                q.name for q in book if q.name.startswith(f"joint.{cross}_lap.") and q.name.endswith(".glued")
            )
