"""Whatever a check is made with or against is there by then: the plan of work is walked, and what each check names is
looked for among what was made before."""

import re
from collections.abc import Callable, Iterator

import pytest

from templategen.fit.plan import plan_assembly
from templategen.jigs.jig import Jig
from templategen.packet.shipped import shipped_names
from templategen.shop.set_ups.set_up import SetUp
from templategen.shop.trial_wood import trial_wood
from templategen.table.assembly import Table
from templategen.work.operation import Operation
from templategen.work.plan import WorkPlan, work_plan
from tests.random_profiles import tables
from tests.table.made import table_of

STRIPS_MADE, JIGS_MADE = "saw out the test strips", "make the jigs"


class Bench:
    """What was done so far: operations by the kind of part they were done to, faces of ends that were rebated, codes
    of whatever was made, and what is in hand."""

    def __init__(self, table: Table, plan: WorkPlan) -> None:
        self.kinds = {part.code: part.kind for part in table.parts}
        self.strips = {one.code for one in trial_wood(table, plan.set_ups)}
        self.done: set[tuple[str, str]] = set()
        self.rebated: set[tuple[str, str, str]] = set()
        self.there: set[str] = set()
        self.now: Operation | None = None

    def take_up(self, one: Operation) -> None:
        """What the operation makes its own test pieces with counts as there while it is done."""
        self.now = one
        if one.set_up:
            self.rebated |= set(_rebated(one.set_up))
        for jig in one.jigs:
            self.there |= {"TEST-MORTISE"} if jig == "TEST-TENON" and one.does == "mortise" else set()

    def put_down(self) -> None:
        """The operation is done."""
        one = self.now
        assert one is not None
        codes = one.set_up.codes if one.set_up else one.step.adds if one.step else one.codes
        self.done |= {(one.does, self.kinds.get(code, "")) for code in codes} | {(one.does, "")}
        self.there |= set(one.jigs) if one.does == JIGS_MADE else set(codes)
        self.there |= self.strips if one.does == STRIPS_MADE else set()
        if one.step and "mitre" in one.step.joints:
            self.done.add(("ring", ""))

    def was(self, does: str, *kinds: str) -> bool:
        """Whether that was done to parts of one of these kinds, or to anything."""
        return any((does, kind) in self.done for kind in kinds or ("",))

    def has(self, *does: str) -> bool:
        """Whether one of these was done or is in hand."""
        return any(self.was(one) or (self.now is not None and self.now.does == one) for one in does)

    @property
    def in_hand(self) -> set[str]:
        """The kinds of the pieces in hand."""
        assert self.now is not None
        return {self.kinds[code] for code in self.now.set_up.codes} if self.now.set_up else set()


def _rebated(set_up: SetUp) -> Iterator[tuple[str, str, str]]:
    if set_up.operation == "rebate":
        for lay in (lay for cut in set_up.cuts for lay in cut.lays):
            yield lay.code, lay.against, lay.worked


def _both_faces(bench: Bench) -> bool:
    assert bench.now is not None and bench.now.set_up is not None
    faces = {(lay.code, lay.against) for cut in bench.now.set_up.cuts for lay in cut.lays}
    return all((code, end, face) in bench.rebated for code, end in faces for face in ("top", "bottom"))


def _groove_or_mortise(bench: Bench) -> bool:
    return all(bench.was("mortise" if kind == "leg" else "groove") for kind in bench.in_hand)


NAMED: dict[str, Callable[[Bench], bool]] = {
    r"in its mate|in its place|in two slots": lambda bench: False,
    r"the spline\b": lambda bench: bench.was("rip", "spline") and bench.was("crosscut", "spline"),
    r"its slot\b": lambda bench: bench.was("spline slot"),
    r"groove or mortise": _groove_or_mortise,
    r"both rebates": _both_faces,
    r"rebate beside it": lambda bench: bench.was("rebate", "slat"),
    r"crossing rail|the rail in it": lambda bench: bench.was("rip", *(bench.in_hand or ("rail",))),
    r"rail's (mortise|hole)|its mortise": lambda bench: bench.was("mortise", "rail"),
    r"tenon (goes|home|shows)|leg's tenon|rail's tenon": lambda bench: bench.has("rebate") and bench.was("mortise"),
    r"\ba peg\b": lambda bench: bench.was("make the pegs"),
    r"nut's bore": lambda bench: bench.was("cross bore"),
    r"lap together": lambda bench: bench.was("lap", "rail") or bench.was("lap", "base-rail"),
    r"scrap ring|SCRAP-RING": lambda bench: bench.has("scrap ring"),
    r"ring's own": lambda bench: bench.was("ring"),
    r"a mortise runs": lambda bench: bench.was("mortise"),
    r"rail and rim": lambda bench: bench.was("ring"),
}
"""What a check may name, with what must have been done for it to be there."""

CODE = re.compile(r"\b(?:STRIP|TEST|SCRAP)-[A-Z]+\b|\b(?:RIM|RAIL|SLAT|BASE|LEG|SPLINE|FOOT)(?:-[0-9A-Z]+)?\b")


def missing(bench: Bench, text: str) -> Iterator[str]:
    """What the text names and is not there yet."""
    yield from (words for words, is_there in NAMED.items() if re.search(words, text) and not is_there(bench))
    for code in CODE.findall(text):
        if code == "TEST-TENON":
            there = bench.has("rebate")
        elif code.startswith("TEST"):
            there = code in bench.there
        else:
            there = any(known == code or known.startswith(f"{code}-") for known in bench.there)
        if not there:
            yield code


def _texts(one: Operation) -> Iterator[str]:
    if one.set_up:
        yield one.set_up.proof.test_piece
        yield from (check.measure for check in one.set_up.proof.checks)
    else:
        yield one.measure


def _tried(jig: Jig) -> Iterator[str]:
    """What a jig's proof puts together; what it measures on itself needs nothing else."""
    told = (sentence for line in (*jig.use, *jig.proof) for sentence in re.split(r"(?<=[.:]) ", line))
    yield from (one for one in told if re.search(r"\b(try|tried|goes in|goes home|drops in|STRIP-\w+)\b", one))


def unmade(table: Table) -> list[str]:
    """Checks of the plan that name what isn't made yet; a jig is proved at the latest where it is used last."""
    plan = work_plan(table, plan_assembly(table))
    bench, wrong = Bench(table, plan), []
    last = {code: one.number for one in plan.operations[1:] for code in one.operation.jigs}
    jigs = {jig.code: jig for jig in plan.jigs.jigs}
    for one in plan.operations:
        work = one.operation
        bench.take_up(work)
        texts = [*_texts(work)]
        texts += [text for code in work.jigs if last.get(code) == one.number for text in _tried(jigs[code])]
        wrong += [
            f"{one.number} {work.does}: {text!r} names {what}" for text in texts for what in missing(bench, text)
        ]
        bench.put_down()
    return wrong


@pytest.mark.parametrize("name", shipped_names())
def test_checks_name_what_is_there(name: str) -> None:
    """Every mate, test strip, test piece and part that a check names has been made."""
    assert unmade(table_of(name=name)) == []


@pytest.mark.wide
def test_checks_of_random_tables_name_what_is_there() -> None:
    """The same for tables of chance."""
    assert [found for table in tables(range(60, 72)) for found in unmade(table)] == []


@pytest.mark.parametrize("name", shipped_names())
def test_test_pieces_are_found(name: str) -> None:
    """The walk sees what isn't there: without the test strips and with mortises after tenons it complains."""
    table = table_of(name=name)
    plan = work_plan(table, plan_assembly(table))
    bench = Bench(table, plan)
    rebate = next(one.operation for one in plan.operations if one.operation.does == "rebate")
    bench.take_up(rebate)
    assert list(missing(bench, "a piece of STRIP-RAIL")) == ["STRIP-RAIL"]
    assert list(missing(bench, "it goes into its groove or mortise by hand")) == ["groove or mortise"]
    bench.take_up(next(one.operation for one in plan.operations if one.operation.does == "lap"))
    assert list(missing(bench, "tried in its mate")) and list(missing(bench, "with the lap together"))
