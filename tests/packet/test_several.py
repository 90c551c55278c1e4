"""Several profiles in one run: each its packet, one stock and one set of lists, nothing lost between them."""

from __future__ import annotations

import csv
import json
from collections import Counter
from collections.abc import Iterator, Sequence
from hashlib import sha256
from io import StringIO
from math import ceil
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from shapely import Polygon, affinity, box

from templategen.cli import main
from templategen.errors import ProfileError
from templategen.jigs.jig import KINDS
from templategen.packet.several import make_packets
from templategen.packet.shared_stock import shared_stock
from templategen.packet.shipped import shipped_text
from templategen.proof.bench.boards import joint_board_differences
from templategen.proof.lists import list_differences
from templategen.table.profile.model_of_shop import Stock
from templategen.table.profile.read import profile_from_text
from tests.packet.test_packet import pieces_laid

OWN = """
[[stock]]
name = "iroko boards"
length = 1800
width = 130
thickness = 28
price = 24.00
[[stock]]
name = "iroko thick"
length = 1200
width = 140
thickness = 45
price = 27.50
"""


@pytest.fixture(autouse=True, scope="module")
def quickly() -> Iterator[None]:
    """A tenth of the usual work on layouts: what is asked here is that they are whole, not that they are cheap."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("templategen.nesting.engines.rectangles.DEFAULT_FILLS", 300)
        yield


def small(title: str, size: int, stock: str = OWN) -> str:
    """The shipped side table under another title, of another size, with other stock."""
    text = shipped_text("towpath-side").replace("diameter = 560", f"diameter = {size}")
    head, _, rest = text.partition("[[stock]]")
    return head.replace('"Towpath side table"', f'"{title}"') + stock + "\n[paper]\n" + rest.partition("[paper]")[2]


def make(folder: Path, *words: str) -> Result:
    """Runs the command on profiles in a folder."""
    return CliRunner().invoke(main, ["make", *words, "-o", str(folder / "out")])


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The shipped side table and another of the same wood made together, two of each."""
    folder = tmp_path_factory.mktemp("both")
    side = shipped_text("towpath-side")
    (folder / "side.toml").write_text(side, encoding="utf-8")
    (folder / "taller.toml").write_text(side.replace("height = 480", "height = 520"), encoding="utf-8")
    result = make(
        folder, str(folder / "side.toml"), str(folder / "taller.toml"), "--count", "2", "--only", "stock,lists"
    )
    assert result.exit_code == 0, result.output
    return folder / "out"


def record(folder: Path) -> dict[str, Any]:
    """The record at the head of a folder."""
    told: dict[str, Any] = json.loads((folder / "packet.json").read_text(encoding="utf-8"))
    return told


@pytest.mark.wide
def test_every_profile_has_its_packet_and_all_share_one_stock(both: Path) -> None:
    """A folder for each with lists of its own, no stock and no buy list in it, and these at the head."""
    told = record(both)
    assert [one["folder"] for one in told["packets"]] == ["side", "taller"]
    for one in told["packets"]:
        own = record(both / one["folder"])
        assert own["profile_sha256"] == one["profile_sha256"]
        assert own["stock"] == []
        assert not (both / one["folder"] / "stock").exists()
        assert not (both / one["folder"] / "lists" / "buy-list.csv").exists()
        for file in own["files"]:
            assert sha256((both / one["folder"] / file["path"]).read_bytes()).hexdigest() == file["sha256"]
    assert (both / "lists" / "buy-list.csv").is_file()
    assert any((both / "stock").glob("*.dxf"))


def test_the_head_names_every_file(both: Path) -> None:
    """The record at the head lists all files of all packets with their hashes, itself left out."""
    there = {path.relative_to(both).as_posix() for path in both.rglob("*") if path.is_file()} - {"packet.json"}
    listed = {file["path"]: file["sha256"] for file in record(both)["files"]}
    assert set(listed) == there
    assert all(sha256((both / path).read_bytes()).hexdigest() == told for path, told in listed.items())


def test_parts_of_both_are_laid_as_often_as_two_tables_need(both: Path) -> None:
    """Codes carry their profile; each part is laid for two tables of each, in whole strips, both on one
    board."""
    told = record(both)
    counts = {part["code"]: part["count"] for part in told["parts"] if part["kind"] not in KINDS}
    laid = pieces_laid(told)
    strips = {code: one["pieces"] for sheet in told["stock"] for code, one in sheet["sawn_out"].items()}
    assert set(laid) == set(counts)
    for code, count in counts.items():
        assert laid[code] == strips[code] * ceil(2 * count / strips[code]), code
    standing = Counter(place["code"] for place in told["placed"])
    assert standing == counts
    mixed = [{place["code"].split("/")[0] for place in sheet["placements"]} for sheet in told["stock"]]
    assert {"side", "taller"} in mixed


def test_joints_and_steps_point_at_their_own_copies(both: Path) -> None:
    """Places counted on still name copies of the parts that meet, and every copy is moved into place once."""
    told = record(both)
    for joint in told["joints"]:
        assert [told["placed"][place]["code"] for place in joint["placed"]] == joint["parts"]
    moved = [move for step in told["assembly"] for move in step["moves"]]
    assert sorted({move["placed"] for move in moved}) == list(range(len(told["placed"])))
    assert all(told["placed"][move["placed"]]["code"] == move["code"] for move in moved)
    assert [step["step"] for step in told["assembly"]] == list(range(1, len(told["assembly"]) + 1))


def test_lists_hold_all_tables(both: Path) -> None:
    """The cut list has the copies of both tables under their own codes; the buy list pays for every sheet laid."""
    told = record(both)
    rows = list(csv.DictReader((both / "lists" / "cut-list.csv").open(encoding="utf-8")))
    assert {row["code"]: int(row["count"]) for row in rows} == {
        p["code"]: 2 * p["count"] for p in told["parts"] if p["kind"] not in KINDS
    }
    bought = {row["item"]: int(row["pieces"]) for row in listed(both, "buy-list") if row["kind"] != "test strip"}
    assert Counter(sheet["name"] for sheet in told["stock"]) == {n: c for n, c in bought.items() if c}


def test_nothing_lies_over_anything(both: Path) -> None:
    """Blanks read from the record, moved by shapely, lie inside their boards and a kerf apart."""
    told = record(both)
    blanks = {part["code"]: Polygon([vertex[:2] for vertex in part["blank"]]) for part in told["parts"]}
    for sheet in told["stock"]:
        shapes = []
        for at in sheet["placements"]:
            rough = sheet["sawn_out"].get(at["code"])
            shape = Polygon([vertex[:2] for vertex in rough["outline"]]) if rough else blanks[at["code"]]
            shape = affinity.scale(shape, -1, 1, origin=(0, 0)) if at["turned_over"] else shape
            shapes.append(affinity.translate(affinity.rotate(shape, at["turn"], (0, 0)), at["x"], at["y"]))
        room = box(0, 0, *sheet["size"]).buffer(1e-6)
        assert all(room.covers(shape) for shape in shapes)
        gaps = [one.distance(other) for n, one in enumerate(shapes) for other in shapes[:n]]
        assert min(gaps, default=9.0) >= sheet["spacing"] - 1e-4


def test_blanks_of_all_come_off_the_shared_boards(both: Path) -> None:
    """The bench saws the boards at the head for the plans of both; a blank missing, one too wide and a cut that is
    left out show."""
    told = record(both)
    inners = {entry["folder"]: record(both / entry["folder"]) for entry in told["packets"]}
    assert list(joint_board_differences(told, inners)) == []
    piece = told["stock"][0]
    for change in (_one_less, _wider, _one_cut_less):
        was = json.dumps(piece)
        change(piece)
        assert list(joint_board_differences(told, inners)), change
        piece.update(json.loads(was))
    assert list(joint_board_differences(told, inners)) == []


def _one_less(piece: dict[str, Any]) -> None:
    del piece["placements"][0]


def _wider(piece: dict[str, Any]) -> None:
    """The plan begins with wider blanks than are laid out."""
    laid = piece["sawn_out"][piece["placements"][0]["code"]]
    laid["outline"] = [[x, 1.01 * y, bulge] for x, y, bulge in laid["outline"]]


def _one_cut_less(piece: dict[str, Any]) -> None:
    del piece["cuts"][len(piece["cuts"]) // 2]


def listed(folder: Path, name: str) -> list[dict[str, str]]:
    """The rows of a list."""
    return list(csv.DictReader(StringIO((folder / "lists" / f"{name}.csv").read_text(encoding="utf-8"))))


def stock_of(both: Path) -> tuple[Stock, ...]:
    """What the tables are bought from."""
    return profile_from_text((both / "side" / "profile.toml").read_text(encoding="utf-8"), "side").stock


def bought_for_strips(both: Path, stock: Sequence[Stock]) -> list[tuple[Stock, int]]:
    """How many further boards the shared list buys, by stock."""
    rows = {row["item"]: row for row in listed(both, "buy-list")}
    return [(one, int(rows[name]["pieces"])) for one in stock if (name := f"{one.name}, for test strips") in rows]


class Folder:
    """The written files."""

    def __init__(self, at: Path) -> None:
        self.at = at

    def read(self, path: str) -> bytes | None:
        """One of them."""
        return (self.at / path).read_bytes() if (self.at / path).exists() else None


def test_offcuts_are_stock_for_the_next_profile(both: Path) -> None:
    """The list of offcuts is read as the stock of a profile: what the record says is left, and what boards bought for
    test strips leave, but for the strips of both tables, which are bought with the rest."""
    told = record(both)
    text = (both / "lists" / "offcuts.toml").read_text(encoding="utf-8")
    stock = profile_from_text('wood = "iroko"\n' + text, "next").stock
    left = sorted(size for sheet in told["stock"] for size in sheet["offcuts"])
    area = sum(w * h for _, _, w, h in left)
    area += sum(one.length * one.width * many for one, many in bought_for_strips(both, stock_of(both)))
    strips = [row for entry in told["packets"] for row in listed(both / entry["folder"], "test-wood")]
    of_own = [row for row in strips if row["code"].startswith("STRIP-")]
    used = sum(int(row["pieces"]) * float(row["length_mm"]) * float(row["width_mm"]) for row in of_own)
    assert of_own and stock
    assert sum(one.length * one.width for one in stock) <= area - used
    assert {"side/SCRAP-RING", "taller/SCRAP-RING"} <= {row["item"] for row in listed(both, "buy-list")}
    assert list(list_differences(told, Folder(both), Counter())) == []  # type: ignore[arg-type]
    assert all(one.margin == 0 and one.count == 1 and one.price == 0 for one in stock)


@pytest.mark.wide
def test_one_profile_alone_is_the_packet_it_always_was(tmp_path: Path) -> None:
    """Made alone, a profile's record has no packets within and its files lie at the head."""
    (tmp_path / "a.toml").write_text(small("Nook", 600), encoding="utf-8")
    result = make(tmp_path, str(tmp_path / "a.toml"), "--only", "stock")
    assert result.exit_code in (0, 1), result.output
    assert "packets" not in record(tmp_path / "out")
    assert (tmp_path / "out" / "stock").is_dir()


def profiles(*texts: str) -> list[Any]:
    """Profiles of these texts, named by letters."""
    return [profile_from_text(text, name, f"{name}.toml") for name, text in zip("abc", texts, strict=False)]


def test_equal_stock_is_one_and_contradicting_stock_is_refused() -> None:
    """The same entry in both is one; another price under one name is told with both prices."""
    one = profiles(small("One", 600), small("Two", 620))
    assert [stock.name for stock in shared_stock(one)] == ["iroko boards", "iroko thick"]
    with pytest.raises(ProfileError) as refusal:
        make_packets(profiles(small("One", 600), small("Two", 620, OWN.replace("24.00", "25.00"))))
    (fault,) = refusal.value.faults
    assert (fault.where, fault.file) == ("stock[1].price", "b.toml")
    text = small("Two", 620, OWN.replace("24.00", "25.00"))
    assert text.splitlines()[fault.line - 1] == "price = 25.00"
    assert "25 here and 24 in a" in fault.found


def test_one_name_cannot_stand_for_two_profiles(tmp_path: Path) -> None:
    """The same file twice is refused and --count named; nothing is written."""
    (tmp_path / "a.toml").write_text(small("Nook", 600), encoding="utf-8")
    result = make(tmp_path, str(tmp_path / "a.toml"), str(tmp_path / "a.toml"))
    assert result.exit_code == 2
    assert "--count" in result.stderr and not (tmp_path / "out").exists()


@pytest.mark.parametrize(
    ("key", "word", "usual"), [("language", "german", "english"), ("english", "american", "british")]
)
def test_tables_told_in_different_words_are_refused(tmp_path: Path, key: str, word: str, usual: str) -> None:
    """Before work begins, with the line; lists and page are of all tables, and `prove` reads them in one language."""
    (tmp_path / "one.toml").write_text(small("One", 560), encoding="utf-8")
    text = f'{small("Other", 600)}\n[words]\n{key} = "{word}"\n'
    (tmp_path / "other.toml").write_text(text, encoding="utf-8")
    result = make(tmp_path, str(tmp_path / "one.toml"), str(tmp_path / "other.toml"))
    assert result.exit_code == 2 and not (tmp_path / "out").exists()
    line = 1 + text.splitlines().index(f'{key} = "{word}"')
    assert f"other.toml:{line}: words.{key}: " in " ".join(result.output.split())
    assert word in result.output and usual in result.output


@pytest.mark.wide
def test_a_profile_called_stock_gets_a_folder_of_its_own(tmp_path: Path) -> None:
    """Names that the head of the folder needs are not taken by a profile."""
    (tmp_path / "stock.toml").write_text(small("One", 600), encoding="utf-8")
    (tmp_path / "lists.toml").write_text(small("Two", 620), encoding="utf-8")
    result = make(tmp_path, str(tmp_path / "stock.toml"), str(tmp_path / "lists.toml"), "--only", "stock")
    assert result.exit_code in (0, 1), result.output
    assert [one["folder"] for one in record(tmp_path / "out")["packets"]] == ["stock-2", "lists-2"]


def test_one_table_that_cannot_be_built_stops_all(tmp_path: Path) -> None:
    """The fault is told with its file and nothing is written."""
    (tmp_path / "good.toml").write_text(small("One", 600), encoding="utf-8")
    (tmp_path / "bad.toml").write_text("format = 1\n[top]\nrim_width = 40\n", encoding="utf-8")
    result = make(tmp_path, str(tmp_path / "good.toml"), str(tmp_path / "bad.toml"))
    assert result.exit_code == 2
    assert "bad.toml" in result.stderr and not (tmp_path / "out").exists()


@pytest.mark.wide
def test_a_shortage_is_told_for_all(tmp_path: Path) -> None:
    """With two boards for two tables the copies left over carry their profile, and what to buy is named."""
    short = OWN.replace("price = 24.00", "price = 24.00\ncount = 2")
    for name, size in (("a", 600), ("b", 620)):
        (tmp_path / f"{name}.toml").write_text(small(name, size, short), encoding="utf-8")
    result = make(tmp_path, str(tmp_path / "a.toml"), str(tmp_path / "b.toml"), "--only", "stock")
    told = record(tmp_path / "out")
    assert result.exit_code == 1
    assert told["settled"] is False
    assert told["unplaced"] and all(code.startswith(("a/", "b/")) for code in told["unplaced"])
    assert told["to_buy"].get("iroko boards", 0) > 0
    assert "would hold everything" in " ".join(result.stdout.split())


@pytest.mark.wide
def test_check_takes_several_too(tmp_path: Path) -> None:
    """Each table is told; for machines one object holds them all, and a single one is as it was."""
    for name, size in (("a", 600), ("b", 620)):
        (tmp_path / f"{name}.toml").write_text(small(name, size), encoding="utf-8")
    paths = [str(tmp_path / "a.toml"), str(tmp_path / "b.toml")]
    several = json.loads(CliRunner().invoke(main, ["check", *paths, "--json"]).stdout)
    alone = json.loads(CliRunner().invoke(main, ["check", paths[0], "--json"]).stdout)
    assert [one["profile"] for one in several["profiles"]] == ["a", "b"]
    assert several["exit"] == max(one["exit"] for one in several["profiles"])
    assert several["profiles"][0] == alone
