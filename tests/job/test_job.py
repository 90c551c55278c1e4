"""What was done is read from a form; the workshop's file learns from it, once, and keeps its comments."""

from __future__ import annotations

import csv
import errno
import os
import re
from dataclasses import replace
from functools import cache
from io import StringIO
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from templategen.cli import main
from templategen.english import spoken
from templategen.errors import ProfileError
from templategen.explain.given import where_set
from templategen.job.book import booked
from templategen.job.form import form_text
from templategen.job.learn import lessons
from templategen.job.minutes import Minutes
from templategen.job.next import after_job
from templategen.job.planned import Planned, as_told, planned
from templategen.job.read import JobDone, minutes_of, read_job
from templategen.table.profile.read import profile_from_text
from templategen.table.profile.read_workshop import read_workshop, workshop_from_text
from tests.job.made import made, shop_text, weir


@cache
def plan() -> Planned:
    return planned(weir())


def filled(**values: str) -> str:
    """The form with some lines filled in; a blank in a name is written as two underlines."""
    text = form_text(plan())
    for name, value in values.items():
        key = re.escape(name.replace("__", " ").replace("_m_", "-"))
        text, times = re.subn(rf'^("?{key}"? = )(""|\d+)', rf"\g<1>{value}", text, flags=re.M)
        assert times == 1, name
    return text


def read(tmp_path: Path, text: str) -> JobDone:
    file = tmp_path / "weir-job.toml"
    file.write_text(text, encoding="utf-8")
    return read_job(file, plan())


def run(*words: str) -> Result:
    return CliRunner().invoke(main, ["job", *words])


def test_minutes_know_of_which_rates_they_are() -> None:
    fifteen, two = Minutes(15, {"set_up": 15}), Minutes(2, {"cut": 2})
    spent = 2 * fifteen + 3 * (two / 4) * 1.5 + 0.0
    assert spent == pytest.approx(30 + 2.25) and spent.of == pytest.approx({"set_up": 30, "cut": 2.25})
    assert sum([fifteen, two, 4.0]) == pytest.approx(21)


@pytest.mark.wide
def test_shares_come_to_the_minutes_of_the_written_plan() -> None:
    """Every minute of plan.csv is of some rate."""
    rows = list(csv.DictReader(StringIO(made("lists/plan.csv").decode())))
    assert sum(plan().minutes.values()) == pytest.approx(float(rows[-1]["minutes"]), abs=0.6)
    for does, minutes in plan().minutes.items():
        assert sum(minutes.of.values()) == pytest.approx(minutes), does
        told = [float(row["minutes"]) for row in rows if row["operation"] == does and not row["step"]]
        assert does == "assembly" or sum(told) == pytest.approx(minutes, abs=0.5 * len(told) + 0.1)


@pytest.mark.wide
def test_an_empty_form_teaches_nothing(tmp_path: Path) -> None:
    """The boards stand as laid out, so they alone would leave the rack."""
    job = read(tmp_path, form_text(plan()))
    assert (job.minutes, job.offcuts, job.lengths, job.moisture) == ({}, (), {}, None)
    assert job.boards == plan().boards and sum(job.boards.values()) > 4


@pytest.mark.wide
def test_the_form_is_filled_in_in_german(tmp_path: Path) -> None:
    """What is done has its German name, of which each stands for one; the English one is read as well."""
    names = as_told(plan().minutes)
    assert names == {does: does for does in plan().minutes}
    with spoken("german", ()):
        german = as_told(plan().minutes)
        text = form_text(plan())
        job = read(tmp_path, text.replace('"Zusammenbau" = ""', '"Zusammenbau" = 40'))
        other = read(tmp_path, text.replace("[minutes]", "[minutes]\nassembly = 40"))
    assert sorted(german.values()) == sorted(names) and "Zusammenbau" in german
    assert not [does for name, does in german.items() if name == does]
    assert job.minutes == other.minutes == {"assembly": 40.0}


def test_what_took_longer_is_planned_longer(tmp_path: Path) -> None:
    """Mitres twice as long: the rate goes up by the share that is believed; what isn't told stays."""
    took = 2 * plan().minutes["mitre"]
    job = read(tmp_path, filled(mitre=f"{took:.4f}"))
    shop = profile_from_text("format = 1", "shop", workshop=workshop_from_text(shop_text(), "s"))
    found = {one.key: one for one in lessons(plan(), job, shop)}
    assert set(found) == {"rates.mitre", "rates.set_up"}
    cut = plan().minutes["mitre"].of["mitre"]
    assert found["rates.mitre"].after == pytest.approx(2.4 + cut / (cut + 120) * 2.4, abs=0.006)
    assert 15 < found["rates.set_up"].after < 30
    for one in found.values():
        told = re.search(r"%: (\S+) \+ (\S+) x \((\S+) x (\S+) - (\S+)\)$", one.why)
        assert told, one.why
        believed, share, longer, rate, again = map(float, told.groups())
        assert believed == again == one.before
        assert believed + share * (longer * rate - again) == pytest.approx(one.after, abs=0.03)


def test_a_figure_says_which_job_taught_it_until_the_maker_writes_another(tmp_path: Path) -> None:
    leg = plan().lengths["LEG"]
    job = read(tmp_path, filled(mitre=f"{2 * plan().minutes['mitre']:.4f}", LEG=f"{leg + 2}"))
    for start in (shop_text(), 'format = 1\nunits = "in"\n'):
        text = booked(plan(), job, workshop_from_text(start, "shop.toml")).text
        shop = workshop_from_text(text, "shop.toml")
        told = profile_from_text("format = 1", "t", workshop=shop)
        rate = f"{shop.lines['rates.mitre']}, {2.4 if start == shop_text() else 2.0} before weir-job.toml: "
        assert where_set(told, "rates.mitre").startswith(f"workshop line {rate}")
        assert "0.3 before weir-job.toml: lengths measured: 1, off by" in where_set(told, "shop.length_error")
        by_hand = re.sub(r"^mitre = \d\S+", "mitre = 3.1", text, flags=re.M)
        other = profile_from_text("format = 1", "t", workshop=workshop_from_text(by_hand, "shop.toml"))
        assert where_set(other, "rates.mitre") == f"workshop line {shop.lines['rates.mitre']}"
    with pytest.raises(ProfileError, match=r"taught.* leave it as templategen job writes it"):
        workshop_from_text("format = 1\n[taught.rates]\nmitre = 3\n", "shop.toml")


def test_lengths_off_make_the_error_larger(tmp_path: Path) -> None:
    leg, rim = plan().lengths["LEG"], plan().lengths["RIM-A"]
    job = read(tmp_path, filled(LEG=f"{leg + 0.8}", RIM_m_A=f'"{rim - 0.6} mm"', moisture="13.5"))
    shop = profile_from_text("format = 1", "shop")
    taught = list(lessons(plan(), job, shop))
    assert [one.before for one in taught if one.key == "shop.build_moisture"] == [None], "nothing was set"
    found = {one.key: one.after for one in taught}
    wanted = (2 / 12 * (0.8**2 + 0.6**2) / 2 + 10 / 12 * 0.3**2) ** 0.5
    assert found == pytest.approx({"shop.length_error": wanted, "shop.build_moisture": 13.5}, abs=6e-4)


def test_the_rack_gives_boards_and_takes_offcuts(tmp_path: Path) -> None:
    """Comments, order and everything else of the file stay as they were."""
    cut = next(iter(plan().offcuts))
    job = read(tmp_path, filled(larch__38="5", **{cut.replace(" ", "__"): "true"}))
    shop = workshop_from_text(shop_text(), "shop.toml")
    found = booked(plan(), job, shop)
    lines = found.text.splitlines()
    assert "count = 3  # on Sunday" in lines and "mitre = 2.4              # the sled is slow" in lines
    assert [line for line in shop_text().splitlines() if line not in lines] == ["count = 8  # on Sunday", "count = 3"]
    with pytest.raises(ProfileError, match=r"made: table 1 of it stands in shop\.toml already.*write made = 2"):
        booked(plan(), job, workshop_from_text(found.text, "shop.toml"))
    again = replace(job, made=2, boards={"larch 38": 3})
    twice = workshop_from_text(booked(plan(), again, workshop_from_text(found.text, "shop.toml")).text, "shop.toml")
    rack = profile_from_text("format = 1", "t", workshop=twice).stock
    assert [one.name for one in rack[5:]] == [f"{cut} {plan().seal[:4]}-{made}" for made in (1, 2)]
    assert rack[0].count == 0 and len(twice.written["jobs"]) == 2
    assert "taught" not in twice.written, "no minutes were told"
    after = profile_from_text("format = 1", "t", workshop=workshop_from_text(found.text, "shop.toml"))
    *before, offcut = after.stock
    told = plan().offcuts[cut]
    assert len(before) == 5 and offcut.name == f"{cut} {plan().seal[:4]}-1" and offcut.count == 1
    assert (offcut.length, offcut.width, offcut.wood) == (told["length"], told["width"], "european larch")
    assert {one.name: one.count for one in before}["larch posts"] == 3 - plan().boards["larch posts"]


def test_in_a_shop_that_counts_in_inches_sizes_keep_their_unit(tmp_path: Path) -> None:
    cut = next(iter(plan().offcuts))
    job = read(tmp_path, filled(LEG=f"{plan().lengths['LEG'] + 8}", **{cut.replace(" ", "__"): "true"}))
    shop = workshop_from_text('format = 1\nunits = "in"\n', "shop.toml")
    text = booked(plan(), job, shop).text
    after = profile_from_text("format = 1", "t", workshop=workshop_from_text(text, "shop.toml"))
    assert after.stock[0].length == pytest.approx(plan().offcuts[cut]["length"])
    assert after.shop.length_error > 2 and " mm" in text


FAULTS = {
    "more boards than there are": ({"larch__38": "9"}, "boards.larch 38: 9 used, the rack has 8"),
    "no time": ({"mitre": '"soon"'}, 'minutes.mitre: "soon" stands here; write minutes'),
    "less than no time": ({"mitre": "-3"}, "minutes.mitre: -3 stands here"),
    "no number": ({"larch__38": "true"}, "boards.larch 38: true stands here; write how many"),
    "another part's": ({"LEG": "410"}, "lengths.LEG: 410 mm, and 675 mm is drawn"),
    "no length": ({"LEG": '"5 kg"'}, "lengths.LEG: "),
    "wood under water": ({"moisture": "97"}, "moisture: 97 stands here"),
}


@pytest.mark.parametrize("name", FAULTS)
def test_what_cant_be_is_told_with_its_line(tmp_path: Path, name: str) -> None:
    values, told = FAULTS[name]
    with pytest.raises(ProfileError) as refusal:
        booked(plan(), read(tmp_path, filled(**values)), workshop_from_text(shop_text(), "shop.toml"))
    assert told in str(refusal.value) and "weir-job.toml" in str(refusal.value)


def test_another_packet_s_form_is_refused(tmp_path: Path) -> None:
    with pytest.raises(ProfileError, match=r"packet: is another packet's"):
        read(tmp_path, form_text(plan()).replace(plan().seal, "0" * 16))
    with pytest.raises(ProfileError, match=r"minutes\.plane down: is not of this packet; did you mean plane\?"):
        read(tmp_path, form_text(plan()).replace('"plane" = ', '"plane down" = '))


@pytest.mark.parametrize(
    ("raw", "minutes"), [(95, 95), ("1 h 35 min", 95), ("2.5h", 150), ("40", 40), ("12 min", 12)]
)
def test_time_is_read_as_people_write_it(raw: object, minutes: float) -> None:
    assert minutes_of(raw) == minutes


def test_the_command_changes_the_file_once_and_leaves_the_old_one(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Without --into nothing changes; the job is marked; the hours foretold are those of the next plan."""
    monkeypatch.setattr("templategen.job.planned.planned", lambda _folder: plan())
    shop, job = tmp_path / "shop.toml", tmp_path / "weir-job.toml"
    shop.write_text(shop_text(), encoding="utf-8")
    job.write_text(filled(lap="900", sand='"9 h"'), encoding="utf-8")
    told = run(str(weir()), str(job))
    assert told.exit_code == 0 and "nothing is changed" in told.output and shop.read_text() == shop_text()
    done = run(str(weir()), str(job), "--into", str(shop))
    assert done.exit_code == 0 and "larch posts" in done.output, done.output
    assert (tmp_path / "shop.toml.before").read_text() == shop_text() and "set_up = " in shop.read_text()
    booked_once = shop.read_text()
    job.write_text(filled(lap="900"), encoding="utf-8")
    again = run(str(weir()), str(job), "--into", str(shop))
    assert again.exit_code == 2 and "already" in again.output and shop.read_text() == booked_once


def test_a_full_disk_or_a_kill_leaves_the_rack_as_it_was_and_the_job_to_be_put_in(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whatever is written last fails; the next run finds nothing half done. A link stays one."""
    monkeypatch.setattr("templategen.job.planned.planned", lambda _folder: plan())
    own, job = tmp_path / "own.toml", tmp_path / "weir-job.toml"
    shop = tmp_path / "shop.toml"
    own.write_text(shop_text(), encoding="utf-8")
    shop.symlink_to(own)
    job.write_text(filled(keep='"300 mm"'), encoding="utf-8")
    rename, renames = os.replace, [0]

    def failing(*paths: Path) -> None:
        renames[0] += 1
        if renames[0] == 2:
            raise OSError(errno.ENOSPC, "no room")
        rename(*paths)

    monkeypatch.setattr(os, "replace", failing)
    failed = run(str(weir()), str(job), "--into", str(shop))
    assert failed.exit_code == 2 and "the disk is full" in failed.output and own.read_text() == shop_text()
    assert run(str(weir()), str(job), "--into", str(shop)).exit_code == 0
    rack = profile_from_text("format = 1", "t", workshop=read_workshop(shop)).stock
    long = [name for name, entry in plan().offcuts.items() if entry["length"] >= 300]
    assert [one.name for one in rack[5:]] == [f"{name} {plan().seal[:4]}-1" for name in long]
    assert 0 < len(long) < len(plan().offcuts) and shop.is_symlink() and len(list(tmp_path.iterdir())) == 4


def test_the_next_table_is_read_as_the_job_leaves_the_workshop(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The workshop file stays; what the table sets itself wins, and is told; a job in a file already is refused."""
    monkeypatch.setattr("templategen.job.next.planned", lambda folder: plan() if folder.name == "weir" else None)
    job = tmp_path / "weir-job.toml"
    offcut = min(plan().offcuts)
    job.write_text(filled(lap="900", moisture='"13 %"').replace(f'"{offcut}" = ""', f'"{offcut}" = true'), "utf-8")
    shop = workshop_from_text(shop_text(), "shop.toml")
    found = after_job(profile_from_text('format = 1\nshop = "shop.toml"\n', "t", "", shop), job)
    before = profile_from_text("format = 1\n", "t", workshop=shop)
    assert found.profile.rates.lap > before.rates.lap and found.profile.shop.build_moisture == 13
    assert found.profile.stock[0].count == 8 - plan().boards["larch 38"]
    assert found.profile.stock[-1].name.startswith(offcut[:40]) and not found.unheeded
    assert found.profile.workshop and "shop.toml, and" in found.profile.workshop.file
    own = 'format = 1\n[rates]\nlap = 20\n[[stock]]\nname = "ash"\nlength = 2000\nwidth = 150\nthickness = 38\n'
    heeded = after_job(profile_from_text(own, "t", workshop=shop), job)
    assert heeded.unheeded == ("rates.lap", "stock") and heeded.profile.rates.lap == 20
    with pytest.raises(ProfileError, match=r"already, with all that it taught.*leave this job out"):
        after_job(found.profile, job)
    job.write_text(job.read_text("utf-8").replace('folder = "weir"', 'folder = ""'), "utf-8")
    with pytest.raises(ProfileError, match="doesn't say where the packet is"):
        after_job(before, job)
