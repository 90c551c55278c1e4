"""The file stays the maker's own: comments, order and arithmetic, every step back and forth, no change lost."""

from __future__ import annotations

import random
import tomllib
from pathlib import Path

import pytest

from templategen.errors import ProfileError
from templategen.live.document import ConflictError, Document, step_between
from templategen.live.sizes import held, workshop_of
from templategen.packet.shipped import shipped_names, shipped_text
from templategen.table.profile.kept import edited
from templategen.table.profile.starter import starter_text


@pytest.mark.parametrize("name", shipped_names())
def test_one_line_changes_and_no_other(name: str) -> None:
    """Boards that stand apart keep their places, comments theirs."""
    text = shipped_text(name)
    new = edited(text, {"title": "another", "stock[2].price": 7.25, "slats.width": "values.board + 20 mm"})
    pairs = zip(text.split("\n"), new.split("\n"), strict=True)
    assert sum(old != now for old, now in pairs) == 3
    assert tomllib.loads(new)["stock"][1]["price"] == 7.25


def test_keys_and_sections_are_added_where_they_belong() -> None:
    """Behind the last key of a section, before the remarks on the next; boards behind boards."""
    text = "format = 1\n\n[top]\ndiameter = 900 # wide\n\n# of the slats\n[slats]\ngap = 5"
    new = edited(text, {"top.height": 700, "stock[1]": {"name": "a", "length": 2000}, "legs.tenon": [30, 40.5, 20]})
    assert new == (
        'format = 1\n\n[top]\ndiameter = 900 # wide\nheight = 700\n\n# of the slats\n[slats]\ngap = 5\n\n'
        '[[stock]]\nname = "a"\nlength = 2000\n\n[legs]\ntenon = [30, 40.5, 20]\n'
    )  # fmt: skip
    assert edited(new, {"stock[1]": None, "top.height": None}).count("stock") == 0


def test_lines_keep_their_ends() -> None:
    """A file of another system stays one."""
    assert edited("format=1\r\n[top]\r\ndiameter=900 # x\r\n", {"top.diameter": 950, "top.height": 700}) == (
        "format=1\r\n[top]\r\ndiameter=950 # x\r\nheight = 700\r\n"
    )


def test_random_steps_go_back_to_the_first_letter_and_forth_to_the_last(tmp_path: Path) -> None:
    """Every text on the way comes again."""
    rnd = random.Random(7)
    path = tmp_path / "a.toml"
    path.write_text(starter_text("a"), encoding="utf-8")
    document = Document(path)
    texts = [document.text]
    for number in range(12):
        key = rnd.choice(["top.diameter", "top.height", "base.length"])
        document.change({key: 700 + 10 * number + rnd.randrange(9)}, document.revision, key)
        texts.append(document.text)
    for text in reversed(texts[:-1]):
        assert document.undo(document.revision)
        assert path.read_text(encoding="utf-8") == document.text == text
    assert document.undo(document.revision) == ""
    for text in texts[1:]:
        document.redo(document.revision)
        assert document.text == text


def test_a_step_keeps_only_what_changed() -> None:
    """So that an hour of changes weighs little."""
    step = step_between("aXcaa", "aYYcaa", "x")
    assert (step.at, step.was, step.now) == (1, "X", "YY")
    assert step.back(step.forth("aXcaa")) == "aXcaa"
    assert step_between("aa", "aaa", "x").forth("aa") == "aaa"


def test_what_an_editor_writes_is_taken_over_and_not_overwritten(tmp_path: Path) -> None:
    """A change to what stood before is refused; the editor's own can be taken back."""
    path = tmp_path / "a.toml"
    path.write_text("format = 1\n[top]\ndiameter = 1200\n", encoding="utf-8")
    document = Document(path)
    seen = document.revision
    path.write_text("format = 1\n[top]\ndiameter = 1250 # by hand\n", encoding="utf-8")
    with pytest.raises(ConflictError):
        document.change({"top.height": 700}, seen, "height")
    assert "1250 # by hand" in path.read_text(encoding="utf-8")
    document.change({"top.height": 700}, document.revision, "height")
    assert document.undo(document.revision) == "height"
    assert document.undo(document.revision) == "in an editor"
    assert "1200" in path.read_text(encoding="utf-8")


def test_a_refused_value_is_not_written(tmp_path: Path) -> None:
    """Nor does it count as a step."""
    path = tmp_path / "a.toml"
    path.write_text("format = 1\n", encoding="utf-8")
    document = Document(path)
    with pytest.raises(ProfileError):
        document.change({"top.diameter": 99_999}, document.revision, "x")
    assert path.read_text(encoding="utf-8") == "format = 1\n" and document.revision == 1 and not document.steps


def test_a_workshop_file_is_named_beside_the_table_and_makes_room_for_the_shop_s_keys(tmp_path: Path) -> None:
    """Never in another folder, neither by a change nor by a text from elsewhere; a tool's size set later keeps it."""
    path = tmp_path / "a.toml"
    path.write_text("format = 1\n# mine\n[top]\ndiameter = 1200 # wide\n", encoding="utf-8")
    (tmp_path / "my-shop.toml").write_text("format = 1\n[shop]\nsaw_kerf = 2.4\n", encoding="utf-8")
    document = Document(path)
    for name in ("/etc/passwd", "../my-shop.toml", "x/y.toml"):
        with pytest.raises(ProfileError, match="leads out"):
            document.change({"shop": name}, document.revision, "x")
        with pytest.raises(ProfileError, match="leads out"):
            document.beside(f'format = 1\nshop = "{name}"\n')
    document.change({"shop": "my-shop.toml"}, document.revision, "shop")
    told = held(document.profile)["shop.saw_kerf"]
    assert (told["written"], told["value"], told["of"]) == (None, "2.4", "line 3 of my-shop.toml")
    document.change({"shop.saw_kerf": 3.1, "shop.router_bit": 9}, document.revision, "saw")
    assert tomllib.loads(document.text)["shop"] == {"file": "my-shop.toml", "saw_kerf": 3.1, "router_bit": 9}
    assert "# mine" in document.text and "diameter = 1200 # wide" in document.text
    assert "of" not in held(document.profile)["shop.saw_kerf"]
    assert workshop_of(document.profile, None) == {
        "file": "my-shop.toml", "named": "my-shop.toml", "key": "shop.file", "given": False,
    }  # fmt: skip
