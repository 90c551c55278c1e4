"""Words on paper in every script that is set: all letters there, in their visible order, read back by a library."""

from __future__ import annotations

import io
from dataclasses import replace

import pypdfium2
import pytest

from templategen.output.typeset import BOLD, CAP_SHARES, FONT, OTHER, fitted, text_length, typeset, unset, wrapped
from templategen.table.profile.model_of_shop import Paper
from tests.drawing.recorder import lopsided
from tests.output.tiled import tiled_pdf

HEBREW = "שולחן"
BACK = HEBREW[::-1]


@pytest.mark.parametrize(
    ("words", "face", "shown"),
    [
        ("Towpath ⌀ 40 → ′", FONT, "Towpath Ø 40 > '"),
        ("Стол у канала 1400", OTHER, "Стол у канала 1400"),
        ("Τραπέζι", OTHER, "Τραπέζι"),
        ("Łódź", OTHER, "Łódź"),
        ("漢字 table", FONT, "?? table"),
        ("漢 Стол", OTHER, "? Стол"),
        (f"{HEBREW} 1400", OTHER, f"1400 {BACK}"),
        (f"Table {HEBREW} A", OTHER, f"Table {BACK} A"),
        (f"{HEBREW} Table", OTHER, f"Table {BACK}"),
        (f"A 12 {HEBREW} 34 B", OTHER, f"A 12 34 {BACK} B"),
        (f"({HEBREW})", OTHER, f"({BACK})"),
        (f"{HEBREW} (x) {HEBREW}", OTHER, f"{BACK} (x) {BACK}"),
        (" two \n lines\t", FONT, "two lines"),
    ],
)
def test_a_line_is_set_in_a_face_that_has_its_letters(words: str, face: str, shown: str) -> None:
    """The first face where it does, the other where it has more; runs from the right stand turned round."""
    assert typeset(words) == (face, shown)
    assert len(unset(words)) == shown.count("?")


def test_names_that_paper_lacks_letters_for_are_told() -> None:
    """A title in a script that no face has is a caution with its letters, once each; one in Cyrillic is none."""
    from templategen.packet.unset import unset_words
    from tests.table.made import profile_of

    (told,) = unset_words(replace(profile_of(), title="शाला-1400 शा"))
    assert told.level == "caution" and told.where == "title" and told.measured == len(set("शाला"))
    assert not unset_words(replace(profile_of(), title="Стол у канала"))


def test_bold_stays_bold_where_it_has_the_letters() -> None:
    """Only what the bold face lacks is set in the other one."""
    assert typeset("Rim", True)[0] == BOLD
    assert typeset("Стол", True)[0] == OTHER


def test_capitals_are_as_tall_in_every_face() -> None:
    """The shares are those of a capital H in the fonts' own outlines."""
    from pathlib import Path

    import fontpkg_arimo
    import reportlab
    from fontTools.ttLib import TTFont

    own = Path(reportlab.__file__).parent / "fonts"
    files = {FONT: own / "Vera.ttf", BOLD: own / "VeraBd.ttf", OTHER: fontpkg_arimo.ROOT / "files/Arimo[wght].ttf"}
    for face, share in CAP_SHARES.items():
        font = TTFont(files[face])
        assert share == pytest.approx(font["glyf"]["H"].yMax / font["head"].unitsPerEm, abs=5e-4)


def test_lines_fit_their_room() -> None:
    """Cut words end with an ellipsis and fit; wrapped ones keep their order and lose nothing."""
    for words in ("Towpath tables, the long one", "Стол у канала для сада и веранды"):
        short = fitted(words, 3.5, 40.0)
        assert short.endswith("…") and words.startswith(short[:-1].rstrip())
        assert 30 < text_length(short, 3.5) <= 40
        lines = wrapped(words, 3.5, 40.0)
        assert len(lines) > 1 and " ".join(lines) == words
        assert all(text_length(line, 3.5) <= 40 for line in lines)


def test_titles_come_back_from_the_file() -> None:
    """The page's words and the file's title hold every letter, the catalogue says the language."""
    data = tiled_pdf(lopsided(), Paper("A4", 8, 12, 1, 1), "Летний стол", HEBREW, 3, "", "Τραπέζι, Żółw")
    document = pypdfium2.PdfDocument(io.BytesIO(data))
    text = document[0].get_textpage().get_text_range()
    for words in ("Летний стол", "Τραπέζι, Żółw", "first end"):
        assert words in text
    assert HEBREW in text or BACK in text
    assert document.get_metadata_dict()["Title"] == f"{HEBREW} Летний стол"
    assert b"/Lang (en-GB)" in data
