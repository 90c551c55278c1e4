"""What may change is read and varied; proposals cost what `make` then tells; the maker's text stays the maker's."""

from __future__ import annotations

import csv
from collections.abc import Callable, Sequence
from dataclasses import replace
from functools import cache
from io import StringIO
from pathlib import Path

import pytest

from templategen.drawing.drawing import Words
from templategen.errors import ProfileError
from templategen.kept.keep import keeping
from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_text
from templategen.suit import judge as judging
from templategen.suit import search as searched
from templategen.suit.costs import Costs
from templategen.suit.figures import figure, in_words
from templategen.suit.files import files_of, text_with
from templategen.suit.judge import Judge, Judged, judged, proposals
from templategen.suit.of_boards import for_the_largest, of_boards
from templategen.suit.picture import frontier_picture
from templategen.suit.proposal import Proposal, one_more, proposal
from templategen.suit.quick import Batch, Quick, Reckoner, better
from templategen.suit.search import apart, frontier, neighbours, search
from templategen.suit.variant import asked, at_share, changes, distance, evenly_spread, profile_of, settled
from templategen.table.assembly import Table, build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.read_workshop import workshop_from_text

HEAD = 'format = 1\ntitle = "Lock-side table"\n'
INCHES = HEAD + 'units = "in"\n'


def suited(lines: str, head: str = HEAD) -> Profile:
    return profile_from_text(f"{head}[suit]\n{lines}\n", "suited")


def test_what_may_change_is_read_in_the_profile_s_units() -> None:
    inch = suited('"top.diameter" = [51, 57.5]\n"slats.run" = ["along", "across"]', INCHES)
    first, second = inch.suit.variations
    assert (first.low, first.high) == pytest.approx((1295.4, 1460.5))
    assert second.words == ("along", "across")
    share = suited('"top.rail_width" = "10 %"\n"shop.mitre_error" = ["0.02 deg", "0.3 deg"]').suit.variations
    assert (share[0].low, share[0].high) == pytest.approx((75.6, 92.4))
    assert (share[1].low, share[1].high) == pytest.approx((0.02, 0.3))


FAULTS = {
    "no such key": ('"top.diametre" = [1200, 1300]', "did you mean top.diameter?"),
    "no range": ('"top.diameter" = [1300, 1200]', "write the smaller one first"),
    "out of range": ('"top.diameter" = [300, 1200]', "400 mm to 4000 mm is allowed"),
    "a word that isn't known": ('"top.edge" = ["sawn", "wavy"]', 'choose from "sawn", "faceted"'),
    "one number": ('"top.diameter" = 1300', "write the least and the most"),
    "what counts": ('counts = ["costs"]', "did you mean cost?"),
    "seats": ("seats = 2.5", "a whole number"),
    "a share of an angle": ('"shop.mitre_error" = "5 %"', "write the least and the most"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_what_is_wrong_is_told_with_its_line(name: str) -> None:
    lines, remedy = FAULTS[name]
    with pytest.raises(ProfileError) as refusal:
        suited(lines)
    assert ":4: suit." in str(refusal.value) and remedy in str(refusal.value)


def test_values_lie_on_the_grid_and_within_their_range() -> None:
    profile = suited('"top.diameter" = [1250.4, 1399.2]\n"top.segments" = [6, 18]\n"top.edge" = ["faceted", "sawn"]')
    wide, segments, edge = profile.suit.variations
    assert (settled(profile, wide, 1250.4), settled(profile, wide, 1399.2)) == (1251.0, 1399.0)
    assert settled(profile, segments, 9.4) == 12.0, "three rails: multiples of 6"
    assert [at_share(profile, edge, share) for share in (0.1, 0.6, 1.0)] == ["faceted", "sawn", "sawn"]
    some = list(evenly_spread(profile, 30))
    assert len(set(some)) > 25 and {one[2] for one in some} == {"faceted", "sawn"}
    assert asked(profile) == (1340.0, 12, "sawn")
    moved = (1300.0, 12, "faceted")
    assert dict(changes(profile, moved)) == {"top.diameter": 1300, "top.edge": "faceted"}
    assert distance(profile, moved) == pytest.approx((40 / (1399.2 - 1250.4) + 0 + 1) / 3, abs=1e-6)


def test_neighbours_differ_in_one_value_by_a_share_of_its_range() -> None:
    """Down before up; what the grid or the range leaves where it is makes no neighbour, and words have no step."""
    profile = suited('"top.diameter" = [1250, 1400]\n"top.segments" = [6, 18]\n"top.edge" = ["faceted", "sawn"]')
    near = [(1325.0, 12, "sawn"), (1355.0, 12, "sawn"), (1340.0, 12, "faceted")]
    assert list(neighbours(profile, (1340.0, 12, "sawn"), 0.1)) == near
    coarse = [(1350.0, 18, "faceted"), (1400.0, 12, "faceted"), (1400.0, 18, "sawn")]
    assert list(neighbours(profile, (1400.0, 18, "faceted"), 1 / 3)) == coarse


def test_an_inch_profile_is_varied_in_sixteenths() -> None:
    profile = suited('"top.diameter" = [50, 54]', INCHES)
    (told,) = dict(changes(profile, (settled(profile, profile.suit.variations[0], 1300.0),))).values()
    assert told == 51.1875


def test_the_frontier_keeps_what_nothing_beats() -> None:
    some = [Quick((n,), far, counts, counts) for n, (far, counts) in enumerate([
        (0.0, (300.0, 41.0)), (0.1, (310.0, 38.0)), (0.2, (280.0, 40.9)), (0.3, (280.0, 40.5)), (0.4, (280.0, 38.0)),
    ])]  # fmt: skip
    assert [one.variant for one in frontier(reversed(some))] == [(0,), (2,), (4,)]
    assert better((280.0, 38.0), (280.0, 40.9)) and not better((280.0, 40.5), (280.0, 40.9))
    assert [one.variant for one in apart(tuple(some), 1)] == [(4,)]
    assert [one.variant for one in apart(tuple(some), 3)] == [(0,), (2,), (4,)]


TEXT = """format = 1
title = "Weir table" # the small one
[top]
  diameter = "1.3 m"  # as wide as the arch
thickness = "values.board" # planed
[values]
board = 38
[slats]
gap = 6
"""


def test_comments_and_arithmetic_stay() -> None:
    profile = profile_from_text(TEXT, "weir")
    text = text_with(profile, {"top.diameter": 1264, "slats.run": "along", "joints.spline": "none"})
    assert '  diameter = 1264  # as wide as the arch\nthickness = "values.board" # planed' in text
    assert '[slats]\ngap = 6\nrun = "along"' in text and text.endswith('[joints]\nspline = "none"\n')
    read = profile_from_text(text, "weir")
    assert (read.top.diameter, read.slats.run, read.joints.spline) == (1264.0, "along", "none")


@pytest.fixture(scope="module")
def side() -> tuple[Profile, Proposal]:
    """The side table as it is asked, what may change of it, and all that it comes to."""
    wishes = '\n[suit]\n"top.diameter" = [541, 577]\ncounts = ["cost", "mass", "boards", "to buy"]\n'
    profile = profile_from_text(shipped_text("towpath-side") + wishes, "side")
    return profile, proposal(profile, asked(profile))


@pytest.mark.wide
def test_proposals_hold_and_cost_what_make_then_tells(
    side: tuple[Profile, Proposal], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(judging, "LAID", 6)
    monkeypatch.setattr(searched, "SPREAD", 6)
    monkeypatch.setattr(searched, "BETTERED", 2)
    monkeypatch.setattr(searched, "HALVINGS", 1)
    profile, own = side
    found = proposals(profile, own, search(profile, own.cost), 1)
    assert found and all(one.holds and one.changes and one.cost < own.cost for one in found)
    last = found[-1]
    again = profile_from_text(text_with(profile, dict(last.changes)), "again")
    packet = make_packet(again, ("stock",))
    assert packet.record["stock_bound"]["used_cost"] == pytest.approx(last.cost)
    assert (packet.record["table"]["diameter"], packet.exit_code) == (last.table.profile.top.diameter, 0)
    files = files_of(profile, own, found)
    page = files["index.html"].decode()
    assert page.count("<svg") >= 3 and f">{last.cost:.2f}<" in page and "1-side.toml" in page
    assert profile_from_text(files["1-side.toml"].decode(), "t").top.diameter == found[0].table.profile.top.diameter


@pytest.mark.wide
def test_what_was_kept_makes_the_same_proposal(side: tuple[Profile, Proposal], tmp_path: Path) -> None:
    profile, own = side
    with keeping(tmp_path):
        assert proposal(profile, asked(profile)) == own
        assert proposal(profile, asked(profile)) == own
    assert (tmp_path / "made.sqlite").exists()


@pytest.mark.wide
def test_figures_are_told_in_the_maker_s_units_and_what_finds_no_room_has_no_cost(
    side: tuple[Profile, Proposal],
) -> None:
    profile, own = side
    inches = suited('"top.diameter" = [21, 23]\n"slats.run" = ["along", "across"]\ncounts = ["size"]', INCHES)
    changed = replace(own, changes=(("top.diameter", 21.5), ("slats.run", "along")))
    assert in_words(changed.changes, "in") == "top diameter 21.5 in, slat run along"
    assert figure(own, "mass", "in") == pytest.approx(own.mass / 0.45359237)
    assert figure(own, "size", "in") == pytest.approx(560 / 25.4)
    short = replace(own, short=True)
    files = files_of(profile, short, [own])
    first, second = list(csv.reader(StringIO(files["proposals.csv"].decode())))[1:3]
    assert first[1:5] == [""] * 4 and second[1] == f"{own.cost:g}"
    page = files_of(inches, short, [changed])["index.html"].decode()
    assert "diameter, in" in page and "mass, lb" in page and "top.diameter" in page and ">-<" in page
    assert "nothing found lies above and left" in page
    told = [mark.text for mark in frontier_picture(profile, short, [own]).marks if isinstance(mark, Words)]
    assert "asked" not in told and "1" in told and "cost of stock" in told


@pytest.mark.parametrize("named", ['shop = "tools/shop.toml" # ours\n', '[shop]\nfile = "tools/shop.toml" # ours\n'])
def test_a_proposal_finds_the_workshop_file_from_where_it_lies(named: str) -> None:
    shop = workshop_from_text("format = 1\n[rates]\nlap = 21\n", "shop.toml")
    profile = profile_from_text(f"format = 1\n{named}[top]\ndiameter = 1300\n", "weir", "bench/weir.toml", shop)
    text = text_with(profile, {"top.diameter": 1264}, "bench/near")
    assert '"../tools/shop.toml" # ours' in text and "diameter = 1264" in text
    assert profile_from_text(text, "weir", workshop=shop).rates.lap == 21
    assert '"tools/shop.toml" # ours' in text_with(profile, {"top.diameter": 1264})


RACK = """format = 1
[[stock]]
name = "rim ends"
wood = "iroko"
length = 1500
width = 120
thickness = 28
count = 2
price = 9
[[stock]]
name = "slat ends"
wood = "iroko"
length = 1050
width = 95
thickness = 18
count = 5
margin = 0
"""


@pytest.mark.wide
def test_of_other_boards_the_table_costs_what_has_a_price_and_one_board_more_gives_room(
    tmp_path: Path, side: tuple[Profile, Proposal]
) -> None:
    """Three rim boards at 9 and two planks at 27.50, which alone are thick enough for legs; offcuts are paid for."""
    (tmp_path / "rack.toml").write_text(RACK, encoding="utf-8")
    asked_for = profile_from_text(shipped_text("towpath-side").replace("diameter = 560 ", "diameter = 606 "), "side")
    profile = of_boards(asked_for, tmp_path / "rack.toml")
    assert [one.name for one in profile.stock] == ["rim ends", "slat ends", "iroko planks"]
    assert "# rim and rails, as planed" in profile.text and "iroko slat strips" not in profile.text
    short = replace(side[1], table=build_table(profile), short=True)
    assert dict(one_more(short)) == {"rim ends": 82.0}


def test_for_the_largest_a_table_keeps_its_proportions_or_what_suit_says() -> None:
    profile = for_the_largest(profile_from_text(shipped_text("towpath-side"), "side"))
    assert [(one.path, one.low, one.high) for one in profile.suit.variations] == [("top.diameter", 400, 784)]
    larger = profile_of(profile, (650.0,))
    assert (larger.base.length, larger.legs.centre_distance) == pytest.approx((550 * 65 / 56, 90 * 65 / 56))
    assert profile_of(profile, asked(profile)).base.length == 550 and "# nearly to the rim" in profile.text
    said = for_the_largest(suited(WIDE + '\ncounts = ["mass", "size"] # light'))
    assert said.suit.counts == ("size", "mass") and said.base.length == 820 and "# light" in said.text
    with pytest.raises(ProfileError, match=r"doesn't say how far top\.diameter may change"):
        for_the_largest(suited('"slats.width" = [40, 60]'))


WIDE = '"top.diameter" = [1240, 1440]'


@cache
def table_of() -> Table:
    return build_table(suited(WIDE))


def sized(wide: float | str) -> Table:
    """The table asked under another diameter: all that is asked of it here."""
    table = table_of()
    return replace(table, profile=replace(table.profile, top=replace(table.profile.top, diameter=float(wide))))


def one_of(quick: Quick, profile: Profile, cost: float | None, short: bool = False) -> Judged:
    """A variant as it comes out when it is judged."""
    if cost is None:
        return Judged(quick, None, short, short)
    changed = tuple(changes(profile, quick.variant))
    found = Proposal(
        quick.variant, changed, quick.distance, sized(quick.variant[0]), cost, 9, 2, 4e5, 50.0, 40.0, 30, (), False
    )
    return Judged(quick, found, True)


def judge_of(
    profile: Profile, known: Sequence[tuple[float, float, float]], true: Callable[[float], float | None]
) -> Judge:
    """A judge whose layouts cost what `true` tells of a diameter; the first of the known is the table asked."""
    good = [Quick((wide,), far, (cost,), (cost,)) for wide, far, cost in known]
    own = one_of(good[0], profile, true(good[0].variant[0])).found
    assert own
    judge = Judge(profile, own, good)
    judge._judged = lambda one: one_of(one, profile, true(one.variant[0]))
    return judge


@pytest.fixture
def alone(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(judging, "on_second_core", lambda work, wanted: work)


def test_what_does_not_hold_gives_way_to_the_next_of_all(alone: None) -> None:
    """Two of equal bound: the nearer one has a finding, so the further is proposed, and the middling one stays."""
    known = [(1340.0, 0.0, 400.0), (1330.0, 0.05, 380.0), (1300.0, 0.2, 350.0), (1290.0, 0.25, 350.0)]
    costs = {1340.0: 424.0, 1330.0: 402.8, 1300.0: None, 1290.0: 371.0}
    judge = judge_of(suited(WIDE), known, costs.__getitem__)
    assert [one.variant for one in judged(judge, 3)] == [(1330.0,), (1290.0,)]
    assert judge.laid == 3


def test_what_its_bound_says_cannot_better_the_frontier_is_never_laid_out(alone: None) -> None:
    known = [(1340.0, 0.0, 400.0), *((1340.0 - n, n / 200, 399.0 - n) for n in range(1, 40))]
    judge = judge_of(suited(WIDE), known, lambda wide: max(361.0, 1.02 * (wide - 940.0)) if wide > 1310 else 360.5)
    found = judged(judge, 5)
    assert min(one.cost for one in found) == 360.5 and judge.laid <= 14
    laid = [one.quick for one in judge.known.values() if one.laid]
    assert all(one.counts[0] < 408.0 for one in laid) and len(set(laid)) == len(laid)


RIMS, SLATS = {8.0: (100.0, 125.0), 12.0: (90.0, 140.0)}, {40.0: (60.0, 70.0), 60.0: (55.0, 80.0)}
"""By segments, and by width: what boards cost at least, and when they are laid out."""

OAK = (("oak", 38.0), ("oak", 22.0))


def two_batches(segments: float, width: float, far: float) -> Quick:
    """A rim and slats, either of which other tables have too."""
    pairs = ((RIMS[segments], segments), (SLATS[width], width))
    batches = tuple(
        Batch(kind, str(of).encode(), least, least) for kind, ((least, _), of) in zip(OAK, pairs, strict=True)
    )
    least = sum(batch.least for batch in batches)
    return Quick((segments, width), far, (least,), (least,), batches=batches)


def test_boards_laid_out_once_tell_what_they_cost_in_any_table(alone: None) -> None:
    """The rim of 12 and the wide slats have both proved dear, so a table of both is never laid out."""
    profile = suited(
        '"top.segments" = [8, 12]\n"slats.width" = [40, 60]',
        HEAD + "[top]\nrails = 2\nsegments = 8\n[slats]\nwidth = 40\n",
    )
    good = [two_batches(8.0, 40.0, 0.0), two_batches(12.0, 40.0, 0.3), two_batches(8.0, 60.0, 0.5)]
    both = two_batches(12.0, 60.0, 0.8)

    def judged_one(quick: Quick) -> Judged:
        spent = dict(zip(OAK, (RIMS[quick.variant[0]][1], SLATS[quick.variant[1]][1]), strict=True))
        found = replace(one_of(quick, profile, sum(spent.values())).found, spent=spent)
        return Judged(quick, found, True, False, spent)

    own = judged_one(good[0]).found
    assert own and both.counts[0] < own.cost
    judge = Judge(profile, own, [*good, both])
    judge._judged = judged_one
    judge.judge(good[1:])
    assert judge.promising(3) == [] and judge.laid == 3
    assert judge._believed(both).counts == pytest.approx((220.0,))


def test_where_no_more_is_hoped_what_is_least_known_is_tried(alone: None) -> None:
    """One bound for all, boards in parts the fewer the smaller, and yet the cheap ones lie at the other end."""
    known = [(1340.0 - 2 * n, n / 50, 395.0) for n in range(50)]
    good = [Quick((wide,), far, (cost,), (300 + wide / 20,)) for wide, far, cost in known]
    judge = judge_of(suited(WIDE), known, lambda wide: 395.0 if 1322 < wide < 1336 else 424.0)
    judge.good = good
    found = judged(judge, 3)
    assert [one.cost for one in found] == [395.0] and judge.laid <= 14


def test_the_largest_that_the_rack_holds_is_found_by_halving(alone: None) -> None:
    """Nothing over 1383 mm finds room, whatever its area says."""
    profile = suited(WIDE + '\ncounts = ["size"]')
    some = [float(wide) for wide in range(1340, 1441)]
    good = [Quick((wide,), abs(wide - 1340) / 200, (-wide,), (-wide,), (wide / 1440) ** 2) for wide in some]
    own = one_of(good[0], profile, 400.0).found
    assert own
    judge = Judge(profile, own, good)
    judge._judged = lambda one: one_of(one, profile, 400.0 if one.variant[0] <= 1383 else None, True)
    found = judged(judge, 2)
    assert found[-1].variant[0] in (1381.0, 1382.0, 1383.0) and judge.laid <= 14


def test_a_bound_is_no_more_than_the_layout_and_a_finding_by_sizes_leaves_a_table_out(
    side: tuple[Profile, Proposal],
) -> None:
    profile, own = side
    quick = Reckoner(profile)(asked(profile))
    assert quick
    for what, least in zip(profile.suit.counts, quick.counts, strict=True):
        assert 0 < least <= own.count(what), what
    assert 0 < quick.hints[0] <= quick.counts[0] and quick.counts[0] > 0.7 * own.cost
    costs, plain = Costs(), sum(batch.least for batch in quick.batches)
    assert costs.least(quick.batches) == plain and costs.sharpen([quick]) and not costs.sharpen([quick])
    assert plain <= costs.least(quick.batches) <= own.cost + 1e-6
    costs.learn(quick.batches, own.spent)
    assert costs.least(quick.batches) == pytest.approx(own.cost)
    assert Reckoner(profile, ceiling=0.5 * own.cost)(asked(profile)) is None
    gappy = profile_from_text(shipped_text("towpath-side") + '\n[suit]\n"slats.gap" = [4, 20]\n', "gappy")
    assert Reckoner(gappy)((20.0,)) is None, "a gap that catches fingers"


def test_height_is_a_range_that_must_hold() -> None:
    text = '"top.height" = [600, 800]\nheight = [700, "74 cm"]\n'
    assert suited(text).suit.height == (700.0, 740.0)
    with pytest.raises(ProfileError, match=r"such as height = "):
        suited(WIDE + "\nheight = 730")
    reckon = Reckoner(suited(text))
    assert reckon((650.0,)) is None and reckon((730.0,)) is not None
