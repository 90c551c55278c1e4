"""The shares of a packet as stages: what each puts in the folder, by path."""

from collections.abc import Mapping

from templategen.drawing.exploded import finished_drawing
from templategen.output.page.content import Picture
from templategen.packet.customer import customer_files, customer_picture, customer_sheet
from templategen.packet.jig_files import NO_JIG_FILES, JigFiles, jig_files
from templategen.packet.lists import bench_lists, cut_lists, price_lists, stock_lists
from templategen.packet.lost import or_lost
from templategen.packet.page.glance import looks
from templategen.packet.paper import NO_PAPER, PaperFiles, paper_files
from templategen.packet.part_files import book_files, drawn_elevation, drawn_plan, part_files
from templategen.packet.pipeline import Stage, share, stage
from templategen.packet.router_files import router_files
from templategen.packet.stages import CLOSING, GLUING, HARDWARE, JIGS, LAID, WORK
from templategen.packet.stock_files import Routed, machined_sheets, routed_parts, stock_files
from templategen.packet.table_stages import CHECKED, PLAN, SHAPE, TABLE, TABLES
from templategen.shop.trial_wood import TrialWood, trial_wood

Files = Mapping[str, bytes]
"""What is written, by its path in the folder."""


def _all(paper: PaperFiles, jigs: JigFiles, *shares: Files) -> Files:
    return {path: data for files in (*shares, jigs.files, paper.files) for path, data in files.items()}


PLAN_DRAWING = stage(
    "plan drawn", lambda table, plan: or_lost("drawings/plan", lambda: drawn_plan(table, plan), None), SHAPE, PLAN
)
ELEVATION_DRAWING = stage(
    "elevation drawn", lambda table: or_lost("drawings/elevation", lambda: drawn_elevation(table), None), SHAPE
)
ROUTED: Stage[Routed] = stage("what is routed", routed_parts, TABLE, JIGS)
SHEET_WORKS = stage("sheets machined", machined_sheets, TABLE, LAID, ROUTED)

PART_FILES: Stage[Files] = share(
    "parts drawn", "parts", part_files, SHAPE, PLAN, PLAN_DRAWING, ELEVATION_DRAWING, without={}
)
BOOK: Stage[Files] = share("book of part sheets", "parts", book_files, SHAPE, PLAN, without={})
ROUTER_FILES: Stage[Files] = share("parts for the router", "parts", router_files, SHAPE, TABLES, without={})
STOCK_FILES: Stage[Files] = share("stock drawn", "stock", stock_files, TABLE, LAID, SHEET_WORKS, ROUTED, without={})
PAPER = share("paper", "paper", paper_files, SHAPE, PLAN, PLAN_DRAWING, ELEVATION_DRAWING, without=NO_PAPER)
JIG_FILES = share("jigs drawn", "jigs", jig_files, SHAPE, JIGS, without=NO_JIG_FILES)
CUT_LISTS: Stage[Files] = share("cut list", "lists", cut_lists, TABLE, TABLES, without={})
BENCH_LISTS: Stage[Files] = share(
    "lists for the bench", "lists", bench_lists, TABLE, HARDWARE, CLOSING, WORK, without={}
)
TEST_WOOD: Stage[tuple[TrialWood, ...]] = stage(
    "wood for test pieces", lambda table, work: trial_wood(table, work.set_ups), TABLE, WORK
)
STOCK_LISTS: Stage[Files] = share("lists of the stock", "lists", stock_lists, TABLE, LAID, TEST_WOOD, without={})
PRICE_LIST: Stage[Files] = share("price", "lists", price_lists, TABLE, LAID, HARDWARE, WORK, without={})
FINISHED = share(
    "the table drawn", "page customer",
    lambda table: or_lost("page, picture glance", lambda: finished_drawing(table), None), SHAPE, without=None,
)  # fmt: skip
LOOKS: Stage[Picture | None] = share("page: the table", "page customer", looks, SHAPE, FINISHED, without=None)
CUSTOMER_PICTURE = share("the table for the customer", "customer", customer_picture, FINISHED, without=None)
CUSTOMER_SHEET = share(
    "what the customer is told",
    "customer",
    customer_sheet,
    TABLE,
    CHECKED,
    GLUING,
    LAID,
    HARDWARE,
    WORK,
    without=None,
)
CUSTOMER_FILES: Stage[Files] = share(
    "the customer's sheet", "customer", customer_files, TABLE, CUSTOMER_SHEET, LOOKS, CUSTOMER_PICTURE, without={}
)
FILES = stage(
    "files", _all, PAPER, JIG_FILES, PART_FILES, BOOK, ROUTER_FILES, STOCK_FILES, CUT_LISTS, BENCH_LISTS, STOCK_LISTS,
    PRICE_LIST, CUSTOMER_FILES,
)  # fmt: skip
