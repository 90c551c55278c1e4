"""Reads pages by a PDF library: their size and the lines drawn on them."""

from __future__ import annotations

from collections.abc import Iterator
from ctypes import c_float
from dataclasses import dataclass
from typing import Any

from templategen.errors import Fault, OutputError

MM = 72 / 25.4
"""Points to a millimetre."""

STEPS = 48
"""Chords for a curve of an eighth of a turn or less: within 2 micrometres at a radius of a metre."""

DEEPEST = 8
"""Forms in forms that are looked into."""

Segment = tuple[float, ...]
"""Ends of a line, or the four points of a curve."""


@dataclass(frozen=True, slots=True)
class Page:
    """One page: its size and every line on it as short chords, rows x0, y0, x1, y1, mm from its lower left corner."""

    width: float
    height: float
    chords: Any


def read_pdf(data: bytes, lines: bool = True) -> Iterator[Page]:
    """The pages; their sizes only where no `lines` are wanted.

    Raises:
        OutputError: the bytes are no PDF.
    """
    import pypdfium2

    try:
        document = pypdfium2.PdfDocument(data)
    except pypdfium2.PdfiumError as trouble:
        raise OutputError(Fault("", f"can't be read as PDF ({trouble})")) from trouble
    try:
        for page in document:
            width, height = page.get_size()
            yield Page(width / MM, height / MM, _chords(page if lines else None))
            page.close()
    finally:
        document.close()


def _chords(page: Any) -> Any:
    import numpy as np

    segments = [*_segments(page)] if page is not None else []
    straight = np.array([one for one in segments if len(one) == 4], dtype=float).reshape(-1, 4)
    bent = np.array([one for one in segments if len(one) == 8], dtype=float).reshape(-1, 8)
    return np.concatenate((straight, _flattened(bent)))


def _segments(page: Any) -> Iterator[Segment]:
    import pypdfium2.raw as pdfium

    for thing in page.get_objects(filter=[pdfium.FPDF_PAGEOBJ_PATH], max_depth=DEEPEST):
        matrix, holder = thing.get_matrix(), thing.container
        while holder is not None:
            matrix, holder = matrix.multiply(holder.get_matrix()), holder.container
        yield from _walk(thing.raw, matrix)


def _walk(raw: Any, matrix: Any) -> Iterator[Segment]:
    import pypdfium2.raw as pdfium

    at: tuple[float, float] | None = None
    first: tuple[float, float] | None = None
    curve: list[tuple[float, float]] = []
    x, y = c_float(), c_float()
    for index in range(pdfium.FPDFPath_CountSegments(raw)):
        segment = pdfium.FPDFPath_GetPathSegment(raw, index)
        pdfium.FPDFPathSegment_GetPoint(segment, x, y)
        across, up = matrix.on_point(x.value, y.value)
        point = across / MM, up / MM
        kind = pdfium.FPDFPathSegment_GetType(segment)
        if kind == pdfium.FPDF_SEGMENT_MOVETO or at is None:
            at, first = point, point
        elif kind == pdfium.FPDF_SEGMENT_BEZIERTO:
            curve.append(point)
            if len(curve) == 3:
                yield *at, *curve[0], *curve[1], *curve[2]
                at, curve = point, []
        else:
            yield *at, *point
            at = point
        if pdfium.FPDFPathSegment_GetClose(segment) and first is not None and at != first:
            yield *at, *first
            at = first


def _flattened(curves: Any) -> Any:
    """The chords of cubic curves (rows of four points)."""
    import numpy as np

    t = np.linspace(0.0, 1.0, STEPS + 1)
    weights = np.stack(((1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3))
    points = np.einsum("kt,nkd->ntd", weights, curves.reshape(-1, 4, 2))
    return np.concatenate((points[:, :-1], points[:, 1:]), axis=2).reshape(-1, 4)
