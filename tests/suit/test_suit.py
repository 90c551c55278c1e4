"""What may change is read and varied; proposals cost what `make` then tells; the maker's text stays the maker's."""

from __future__ import annotations

import pytest

from templategen.errors import ProfileError
from templategen.packet.make import make_packet
from templategen.packet.shipped import shipped_text
from templategen.suit import proposal as proposed
from templategen.suit import search as searched
from templategen.suit.files import files_of
from templategen.suit.kept import text_with
from templategen.suit.proposal import Proposal, proposal, proposals
from templategen.suit.quick import Quick, better
from templategen.suit.search import apart, frontier, search
from templategen.suit.variant import Variant, asked, at_share, changes, distance, profile_of, settled, spread
from templategen.table.assembly import build_table
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.read_workshop import workshop_from_text

HEAD = 'format = 1\ntitle = "Lock-side table"\n'


def suited(lines: str, head: str = HEAD) -> Profile:
    return profile_from_text(f"{head}[suit]\n{lines}\n", "suited")


def test_what_may_change_is_read_in_the_profile_s_units() -> None:
    inch = suited('"top.diameter" = [51, 57.5]\n"slats.run" = ["along", "across"]', HEAD + 'units = "in"\n')
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
    assert settled(profile, segments, 6.6) == 7.0
    assert [at_share(profile, edge, share) for share in (0.1, 0.6, 1.0)] == ["faceted", "sawn", "sawn"]
    some = list(spread(profile, 30))
    assert len(set(some)) > 25 and {one[2] for one in some} == {"faceted", "sawn"}
    assert asked(profile) == (1340.0, 12, "sawn")
    moved = (1300.0, 12, "faceted")
    assert dict(changes(profile, moved)) == {"top.diameter": 1300, "top.edge": "faceted"}
    assert distance(profile, moved) == pytest.approx((40 / (1399.2 - 1250.4) + 0 + 1) / 3, abs=1e-6)


def test_an_inch_profile_is_varied_in_sixteenths() -> None:
    profile = suited('"top.diameter" = [50, 54]', HEAD + 'units = "in"\n')
    (told,) = dict(changes(profile, (settled(profile, profile.suit.variations[0], 1300.0),))).values()
    assert told == 51.1875


def test_the_frontier_keeps_what_nothing_beats() -> None:
    some = [Quick((n,), far, counts) for n, (far, counts) in enumerate([
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


def test_proposals_hold_and_cost_what_make_then_tells(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(searched, "SPREAD", 3)
    monkeypatch.setattr(searched, "BETTERED", 1)
    monkeypatch.setattr(searched, "HALVINGS", 1)
    text = shipped_text("towpath-side") + '\n[suit]\n"top.diameter" = [541, 577]\ncounts = ["cost", "mass"]\n'
    profile = profile_from_text(text, "side")
    good = search(profile)
    own, found = proposal(profile, asked(profile)), proposals(profile, good, 1)
    assert found and all(one.holds and one.changes and one.cost < own.cost for one in found)
    last = found[-1]
    again = profile_from_text(text_with(profile, dict(last.changes)), "again")
    packet = make_packet(again, ("stock", "jigs", "lists"))
    assert packet.record["stock_bound"]["used_cost"] == pytest.approx(last.cost)
    assert (packet.record["table"]["diameter"], packet.exit_code) == (last.table.profile.top.diameter, 0)
    files = files_of(profile, own, found)
    page = files["index.html"].decode()
    assert page.count("<svg") >= 3 and f">{last.cost:g}<" in page and "1-side.toml" in page
    assert profile_from_text(files["1-side.toml"].decode(), "t").top.diameter == found[0].table.profile.top.diameter


@pytest.mark.parametrize("named", ['shop = "tools/shop.toml" # ours\n', '[shop]\nfile = "tools/shop.toml" # ours\n'])
def test_a_proposal_finds_the_workshop_file_from_where_it_lies(named: str) -> None:
    shop = workshop_from_text("format = 1\n[rates]\nlap = 21\n", "shop.toml")
    profile = profile_from_text(f"format = 1\n{named}[top]\ndiameter = 1300\n", "weir", "bench/weir.toml", shop)
    text = text_with(profile, {"top.diameter": 1264}, "bench/near")
    assert '"../tools/shop.toml" # ours' in text and "diameter = 1264" in text
    assert profile_from_text(text, "weir", workshop=shop).rates.lap == 21
    assert '"tools/shop.toml" # ours' in text_with(profile, {"top.diameter": 1264})


def test_what_does_not_hold_gives_way_to_the_next_of_all(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two of equal cost: the nearer one has a finding, so the further one is proposed, and the middling one stays."""
    profile = suited('"top.diameter" = [1250, 1400]')
    known = [((1340.0,), 0.0, 400.0), ((1330.0,), 0.1, 380.0), ((1300.0,), 0.3, 350.0), ((1290.0,), 0.4, 350.0)]
    good = tuple(Quick(variant, far, (cost,)) for variant, far, cost in known)
    seen: list[Variant] = []

    def held(_profile: Profile, one: Quick) -> Proposal | None:
        seen.append(one.variant)
        if one.variant == (1300.0,):
            return None
        table = build_table(profile_of(profile, one.variant))
        return Proposal(one.variant, (), one.distance, table, one.counts[0], 9, 50.0, 40.0, 30, (), False)

    monkeypatch.setattr(proposed, "_held", held)
    monkeypatch.setattr(proposed, "on_second_core", lambda work, wanted: work)
    assert [one.variant for one in proposals(profile, good, 3)] == [(1330.0,), (1290.0,)]
    assert seen == [(1330.0,), (1300.0,), (1290.0,)]
