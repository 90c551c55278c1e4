"""The words of the customer's sheet, read back from page and paper."""

from collections.abc import Iterable, Iterator
from html.parser import HTMLParser

from templategen.catalogue import worded
from templategen.proof.difference import Difference

SILENT = ("style", "svg", "script", "title")
"""Elements whose text isn't read as words of the sheet."""

SPOKEN = ("p", "h1", "h2", "th", "td", "li")
"""Elements each of which holds one line."""


class _Reader(HTMLParser):
    """Gathers lines, and whatever stands outside of any."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.lines: list[str] = []
        self._silent = 0
        self._open = False

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self._silent += tag in SILENT
        if tag in SPOKEN:
            self._open = True
            self.lines.append("")
        if tag in ("script", "iframe", "object", "embed", "link", "base", "form") or any(
            name.startswith("on") or name in ("src", "href") for name, _ in attrs
        ):
            self.lines.append(worded("<{tag}> that no sheet of ours has", tag=tag))

    def handle_endtag(self, tag: str) -> None:
        self._silent -= tag in SILENT
        self._open = self._open and tag not in SPOKEN

    def handle_data(self, data: str) -> None:
        if self._silent:
            return
        if self._open:
            self.lines[-1] += data
        elif data.strip():
            self.lines.append(data)


def html_lines(data: bytes) -> list[str]:
    """What a page says, line by line."""
    reader = _Reader()
    reader.feed(data.decode("utf-8", "replace"))
    reader.close()
    return [" ".join(line.split()) for line in reader.lines]


def pdf_words(data: bytes) -> str:
    """All letters of a PDF without blanks, in the order in which they are drawn.

    Raises:
        ValueError: it can't be read.
    """
    import pypdfium2

    try:
        with pypdfium2.PdfDocument(data) as document:
            texts = [page.get_textpage().get_text_bounded() for page in document]
    except pypdfium2.PdfiumError as trouble:
        raise ValueError(str(trouble)) from None
    return _letters("".join(texts))


def _is_plain(line: str) -> bool:
    """Whether a line is set as it is written: in Latin letters, no word so long that it is cut."""
    return all(ord(letter) < LATIN for letter in line) and max(map(len, line.split()), default=0) < LONGEST_WORD


def _letters(text: str) -> str:
    return "".join(letter for letter in text if not letter.isspace() and letter.isprintable())


def html_differences(path: str, data: bytes, wanted: Iterable[str]) -> Iterator[Difference]:
    """Lines of a page that are missing, too many or otherwise."""
    said, lines = html_lines(data), [" ".join(line.split()) for line in wanted]
    for number, (line, other) in enumerate(zip(lines, said, strict=False), 1):
        if line != other:
            yield Difference(
                path,
                f"line {number}",
                worded('says "{other}", the profile makes it "{line}"', other=other[:60], line=line[:60]),
            )
            return
    if len(said) != len(lines):
        yield Difference(
            path, "", worded("has {said} lines, the profile makes {lines}", said=len(said), lines=len(lines))
        )


def pdf_differences(path: str, data: bytes, wanted: Iterable[str]) -> Iterator[Difference]:
    """Lines that the paper doesn't say, and letters that no line has; lines in letters that paper turns round, or has
    no face for, are left to the page."""
    try:
        said = pdf_words(data)
    except ValueError as trouble:
        yield Difference(path, "", worded("can't be read ({trouble})", trouble=str(trouble)[:60]))
        return
    letters, lines = 0, list(wanted)
    for line in filter(_is_plain, lines):
        sought = _letters(line)
        letters += len(sought)
        if sought not in said:
            yield Difference(path, "", worded('doesn\'t say "{line}"', line=line[:60]))
            return
    dashes = len(said) - letters
    if all(map(_is_plain, lines)) and not 0 <= dashes <= MOST_DASHES:
        yield Difference(path, "", worded("has {dashes} letters that the profile doesn't make", dashes=dashes))


LATIN, LONGEST_WORD = 0x180, 28
"""Code points below this are Latin letters; a longer word may be cut with an ellipsis."""

MOST_DASHES = 40
"""Dashes before sentences, of which there are fewer."""
