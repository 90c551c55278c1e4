"""What is worked out of a table before anything is drawn or written: a line for each stage."""

from operator import attrgetter

from templategen.checks.finding import Finding
from templategen.packet.jigs import NO_JIGS, plan_jigs
from templategen.packet.lay_out import LaidStock, lay_out_supplies, stock_findings
from templategen.packet.pipeline import Stage, share, stage
from templategen.packet.supply import Order, Supply, joint_supplies
from templategen.packet.table_stages import (
    CHECKED,
    EFFORT,
    PLAN,
    PROFILE,
    SHAPE,
    TABLE,
    TABLES,
    TELL,
    Tell,
    gravest_first,
)
from templategen.packet.unset import unset_words
from templategen.parts.part import Part
from templategen.shop.closing.study import ClosingStudy, closing_study
from templategen.shop.explained import explained
from templategen.shop.gluing.plan import GluingPlan
from templategen.shop.hardware import hardware
from templategen.shop.set_ups.set_up import SetUp
from templategen.table.profile.model_of_shop import Stock
from templategen.work.plan import work_plan

LARGEST_PRICE = 1e5
"""Costs from here on are areas in mm2: the stock has no prices."""

LAYING_OUT = (0.1, 0.3)
"""From where to where of all the work stock is laid out."""


def _laid_out(
    served: tuple[tuple[Supply, ...], tuple[Part, ...]], tables: int, effort: float | None, tell: Tell
) -> LaidStock:
    first, last = LAYING_OUT
    return lay_out_supplies(
        served, tables, effort, lambda done, best: tell(nesting_now(best), first + (last - first) * done)
    )


def nesting_now(best: float | None) -> str:
    """What is being made while stock is laid out: the best cost so far, or its area in m2 where no price is given."""
    if best is None:
        return "stock"
    return f"stock, best {best:.2f}" if best < LARGEST_PRICE else f"stock, best {best / 1e6:.2f} m2"


def _stock_findings(
    orders: tuple[Order, ...], stock: tuple[Stock, ...], laid: LaidStock | None
) -> tuple[Finding, ...]:
    return stock_findings(orders, stock, laid) if laid else ()


CLOSING: Stage[ClosingStudy] = stage(
    "closing study", lambda sizes, taken: closing_study(sizes, taken=taken),
    stage("sizes", attrgetter("sizes"), SHAPE), stage("way of closing", attrgetter("closing"), PLAN),
)  # fmt: skip
WORK = stage("plan of work", work_plan, TABLE, PLAN, TABLES)
JIGS = share(
    "jigs", "jigs", plan_jigs, TABLE, stage("jigs used", attrgetter("jigs"), WORK), without=NO_JIGS
)  # fmt: skip
SET_UPS: Stage[tuple[SetUp, ...]] = stage("set-ups", attrgetter("set_ups"), WORK)
GLUING: Stage[GluingPlan] = stage("gluing plan", attrgetter("gluing"), WORK)
HARDWARE = stage("hardware", hardware, TABLE, GLUING, TABLES)
FIGURES = stage("figures explained", explained, TABLE, PLAN)

ORDERS: Stage[tuple[Order, ...]] = stage(
    "orders", lambda table, tables, jigs: (Order(table, tables, jigs=jigs.of_sheet(table.profile)),),
    TABLE, TABLES, JIGS,
)  # fmt: skip
STOCK: Stage[tuple[Stock, ...]] = stage("stock", attrgetter("stock"), PROFILE)
SUPPLIES = stage("supplies", joint_supplies, ORDERS, STOCK)
LAID: Stage[LaidStock | None] = share(
    "layouts", "stock lists customer", _laid_out, SUPPLIES, TABLES, EFFORT, TELL, without=None
)
OF_STOCK = stage("findings of the stock", _stock_findings, ORDERS, STOCK, LAID)
LEFT_OUT: Stage[tuple[Finding, ...]] = stage("jigs left out", attrgetter("left_out"), JIGS)
UNSET = stage("words that paper lacks letters for", unset_words, PROFILE)
FINDINGS = stage("findings", gravest_first, CHECKED, OF_STOCK, LEFT_OUT, UNSET)
