"""Stages: each value worked out once, no more than is asked for, and again only where its own inputs changed."""

from __future__ import annotations

import inspect
import logging
from collections import Counter
from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest

from templategen.packet import make, share_files, stages, table_stages
from templategen.packet.make import make_packet
from templategen.packet.page import sections
from templategen.packet.pipeline import Stage, Worked, share, stage
from templategen.packet.shares import SHARES
from templategen.packet.shipped import shipped_text
from templategen.table.profile.read import profile_from_text


class Bench:
    """A made-up row of stages, wide -> half -> (twice, told), that counts its workings."""

    def __init__(self) -> None:
        self.counts: Counter[str] = Counter()
        self.wide: Stage[float] = Stage("wide")
        self.tell: Stage[str] = Stage("tell", compared=False)
        self.half = stage("half", self._counted("half", lambda wide, _: wide // 2), self.wide, self.tell)
        self.twice = stage("twice", self._counted("twice", lambda wide, half: (wide, half)), self.half, self.half)
        self.both = stage("both", self._counted("both", lambda half, wide: (half, wide)), self.half, self.wide)
        self.paper = share(
            "paper", "paper page", self._counted("paper", lambda half: half + 1), self.half, without=-1
        )

    def _counted(self, name: str, work: Callable[..., object]) -> Callable[..., object]:
        def counted(*values: object) -> object:
            self.counts[name] += 1
            return work(*values)

        return counted

    def worked(self, *shares: str, wide: float = 7.0) -> Worked:
        """Its values for a width."""
        return Worked(shares, {self.wide: wide, self.tell: "one"})


def test_each_value_is_worked_out_once_and_only_when_asked() -> None:
    """Two askings give the very same value; what nobody asks for isn't worked out."""
    bench = Bench()
    worked = bench.worked("page")
    assert worked[bench.twice] is worked[bench.twice]
    assert worked[bench.twice] == (3.0, 3.0)
    assert bench.counts == {"half": 1, "twice": 1}


def test_a_share_not_asked_for_needs_nothing() -> None:
    """Its value is the one told for that, and nothing it needs is worked out; one share of several is enough."""
    bench = Bench()
    assert bench.worked("lists")[bench.paper] == -1 and not bench.counts
    assert bench.worked("page")[bench.paper] == 4.0


def test_a_value_is_kept_while_its_own_inputs_are_equal() -> None:
    """From 7 to 6 the half stays 3, so what hangs on it is kept; at 4 it is made anew, and what is told of never
    counts. A value of two changes ago serves again."""
    bench = Bench()
    first = bench.worked("paper")
    assert (first[bench.twice], first[bench.paper]) == ((3.0, 3.0), 4.0)
    same = first.again({bench.wide: 6.0, bench.tell: "two"})
    assert same[bench.twice] is first[bench.twice]
    assert bench.counts == {"half": 2, "twice": 1, "paper": 1}
    other = same.again({bench.wide: 4.0})
    assert other[bench.twice] == (2.0, 2.0) and bench.counts["twice"] == 2
    assert other[bench.paper] == 3.0 and first[bench.paper] == 4.0


def test_one_changed_input_of_two_is_enough() -> None:
    """From 7 to 6 the half stays 3 and the width doesn't: what hangs on both is made anew."""
    bench = Bench()
    first = bench.worked()
    assert first[bench.both] == (3.0, 7.0)
    assert first.again({bench.wide: 6.0})[bench.both] == (3.0, 6.0)


def test_who_is_told_makes_nothing_anew() -> None:
    """Another listener alone keeps every value."""
    bench = Bench()
    first = bench.worked()
    kept = first[bench.half]
    assert first.again({bench.tell: "another"})[bench.half] is kept and bench.counts["half"] == 1


@pytest.mark.parametrize("second_core", [True, False])
def test_values_worked_out_beside_are_the_same(second_core: bool) -> None:
    """Wherever they were worked out, in whatever order they are asked for, each has its own value."""
    bench = Bench()
    worked = bench.worked("paper", wide=9.0)
    worked.begin((bench.twice, bench.paper), second_core)
    assert worked[bench.half] == 4.0
    assert (worked[bench.paper], worked[bench.twice]) == (5.0, (4.0, 4.0))


def test_a_stage_that_is_given_must_be_given() -> None:
    """Asked for without it, the stage is named."""
    with pytest.raises(LookupError, match="profile"):
        Worked((), {})[table_stages.TABLE]


def all_stages() -> Iterator[Stage[object]]:
    """Every stage of a packet, by way of what it needs."""
    met: set[Stage[object]] = set()

    def walk(one: Stage[object]) -> Iterator[Stage[object]]:
        if one not in met:
            met.add(one)
            yield one
            for source in one.of:
                yield from walk(source)

    yield from walk(make.RECORD)


def test_every_stage_is_given_as_much_as_it_takes() -> None:
    """The function of each can be called with the values of the stages that it names; shares are shares."""
    for one in all_stages():
        assert set(one.shares) <= set(SHARES), one.name
        if one.work is not None and not isinstance(one.work, stages.attrgetter):
            inspect.signature(one.work).bind(*one.of)


def test_what_is_begun_beside_belongs_to_the_packet() -> None:
    """No second core makes what no packet asks for."""
    known = set(all_stages())
    assert set(make.ON_SECOND_CORE) <= known
    assert {one for _, _, one in make.IN_ORDER} <= known


@pytest.mark.wide
def test_a_packet_works_nothing_out_twice(caplog: pytest.LogCaptureFixture) -> None:
    """Of a whole packet each stage is told once in the log, with its time: no two stages do the same work."""
    profile = profile_from_text(shipped_text("towpath-side"), "side")
    with caplog.at_level(logging.DEBUG, logger="templategen"), pytest.MonkeyPatch.context() as patch:
        patch.setattr("templategen.nesting.engines.rectangles.DEFAULT_FILLS", 300)
        make_packet(profile)
    told = [one.getMessage().rsplit(maxsplit=2)[0] for one in caplog.records if one.name.endswith("pipeline")]
    names = {one.name for one in all_stages() if one.work is not None}
    assert Counter(told) == dict.fromkeys(names, 1)
    assert len(names) == len([one for one in all_stages() if one.work is not None])


@pytest.mark.wide
def test_another_title_keeps_what_hangs_on_sizes_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    """A table of another name has other sheets; what hangs on its sizes alone is kept, the layouts too, which another
    saw makes anew."""
    monkeypatch.setattr("templategen.nesting.engines.rectangles.DEFAULT_FILLS", 300)
    profile = profile_from_text(shipped_text("towpath-side"), "side")
    first = table_stages.begun(profile, ("lists",))
    kept, laid = first[stages.CLOSING], first[stages.LAID]
    other = first.again({table_stages.PROFILE: replace(profile, title="Another")})
    assert other[stages.CLOSING] is kept and other[stages.LAID] is laid
    assert other[table_stages.TABLE].profile.title == "Another"
    assert other[share_files.PLAN_DRAWING] != first[share_files.PLAN_DRAWING]
    wider = replace(profile, shop=replace(profile.shop, saw_kerf=profile.shop.saw_kerf + 0.9))
    again = other.again({table_stages.PROFILE: wider})
    assert again[stages.LAID] != laid and again[stages.CLOSING] is kept


def test_sections_of_the_table_hang_on_no_stock() -> None:
    """What is drawn while the stock is laid out needs neither layouts nor jigs."""
    for one in sections.OF_THE_TABLE:
        needed = {one}
        while more := {source for stage in needed for source in stage.of} - needed:
            needed |= more
        assert not needed & {stages.LAID, stages.JIGS, stages.FINDINGS}, one.name
