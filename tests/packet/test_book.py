"""The book of part sheets, read back by another library: a page for each part, at the scale it states."""

from __future__ import annotations

import re

import pypdfium2
import pytest

from templategen.packet.part_files import BOOK, book_files
from templategen.parts.revision import part_revision
from templategen.proof.read_pdf import read_pdf
from tests.drawing.shipped_tables import plan_of, table_of


@pytest.mark.parametrize("name", ["towpath-side"])
def test_each_part_has_a_page_at_the_scale_that_it_states(name: str) -> None:
    """The line that cuts it out measures its size over the scale, inside the page; contents and page agree."""
    table = table_of(name)
    data = book_files(table, plan_of(name))[BOOK]
    document, read = pypdfium2.PdfDocument(data), read_pdf(data)
    says = [" ".join(page.get_textpage().get_text_range().split()) for page in document]
    contents, pages, drawn = says[0], says[1:], read.pages[1:]
    assert len(pages) == len(table.parts)
    for number, (part, text, page) in enumerate(zip(table.parts, pages, drawn, strict=True), 2):
        scale = float(re.search(r"scale 1:([\d.]+), revision (\w+)", text)[1])  # type: ignore[index]
        assert part.code in text and f"Revision {part_revision(part)}" in text
        row = f"{part.code} {part.name} {part.count} 1:{scale:g} {part_revision(part)} {number}"
        assert row in contents
        assert page.ink is not None
        (cut,) = [lines for layer, lines in page.ink.chords.items() if layer.startswith("THROUGH_OUTSIDE")]
        xs, ys = cut[:, [0, 2]], cut[:, [1, 3]]
        box = part.outline.bounds
        assert (xs.max() - xs.min()) * scale == pytest.approx(box.width, abs=0.05)
        assert (ys.max() - ys.min()) * scale == pytest.approx(box.height, abs=0.05)
        assert xs.min() > 0 and xs.max() < page.width and ys.min() > 0 and ys.max() < page.height
        told = [one.corners for words in page.ink.lettered.values() for one in words]
        assert all(0 < at.x < page.width and 0 < at.y < page.height for corners in told for at in corners)
        bar = next(lines for layer, lines in page.ink.chords.items() if layer.startswith("SIZE_CHECK"))
        length = re.search(r"([\d.]+) (mm|in), scale", text)
        assert length is not None
        wanted = float(length[1]) * (25.4 if length[2] == "in" else 1.0)
        assert (bar[:, [0, 2]].max() - bar[:, [0, 2]].min()) * scale == pytest.approx(wanted, abs=0.05)
