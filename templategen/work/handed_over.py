"""The table tried with a weight, then given away with what its owner must know."""

from collections.abc import Iterator

from templategen.catalogue import figured
from templategen.checks.balance import balance_of, least_weight
from templategen.checks.describe import said
from templategen.checks.stiffness import cantilever, load_overhang, rail_stiffness
from templategen.checks.tipping import parasol, soft_ground
from templategen.checks.wording import GRAVITY, format_size
from templategen.table.assembly import Table
from templategen.table.rails import top_bolt
from templategen.units import length_by_rule
from templategen.work.dry_top import DRY_TOPS
from templategen.work.glued import tried_with
from templategen.work.operation import Operation

CAPPED = "then fill each counterbore with wax over the bolt's head, or press a cap into it: rain stands there"

SHUT = "say that a parasol is closed in wind"

TRIED = "try the table"

CRUSHED = "Two persons; hands and feet out from under the rim, and nobody beside it, while the weight comes down."


def handed_over(table: Table, tables: int) -> Iterator[Operation]:
    """The last of the plan."""
    yield _tried(table, tables)
    tells = ["give them the customer's sheet, printed or as a file", "say that nobody may sit, stand or climb on it"]
    if dry := DRY_TOPS.get(table.profile.legs.top_joint):
        tells.append(dry.year)
    if table.profile.top.pole_hole > 0:
        tells.append(parasol(table, 0.0).described(table.profile.units).do or SHUT)
    weight = least_weight(table, balance_of(table).mass)
    tells += [one.described(table.profile.units).do for one in soft_ground(table, weight)]
    yield Operation(
        "hand it over",
        "the customer's sheet",
        "group",
        "the table, whoever gets it",
        tuple(tells),
        "they have read it",
    )


def _tried(table: Table, tables: int) -> Operation:
    load = tried_with(table) * GRAVITY
    sinks = cantilever(load, max(0.0, load_overhang(table)), rail_stiffness(table))
    units = table.profile.units
    weight = figured(format_size(tried_with(table), "kg", units))
    return Operation(
        TRIED,
        said("sandbags, {weight} and as much again for the feet; a rule", weight=weight),
        "group",
        "the table on a level floor",
        (
            (
                "it stands on all feet: what rocks is planed off the longest foot"
                if table.sizes.glide_height == 0
                else "it stands on all feet: what rocks is packed up under the glide that hangs"
            ),
            "as much weight on the ground cross as on the rim, so that it can't tip",
            said(
                "let {weight} down softly on the rim over an arm, then half way between two, then over the next arm",
                weight=weight,
            ),
            *((CAPPED,) if top_bolt(table.sizes) else ()),
        ),
        said(
            "nothing cracks and no joint opens; over an arm the rim sinks by about {sinks} and comes back; else take "
            "the weight off, and nobody uses the table before that joint is mended",
            sinks=figured(length_by_rule(sinks, units)),
        ),
        (CRUSHED,),
        minutes=table.profile.rates.set_up * tables,
        persons=2,
    )
