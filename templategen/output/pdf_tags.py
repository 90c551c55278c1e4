"""The structure of a PDF, for whoever has it read out: which marks on its pages are words, and what a drawing shows.

ISO 32000-1, 14.7 and 14.8: marked content on the pages, elements that stand for it, and a tree from the marks of each
page back to their elements.
"""

from typing import Any

ARTIFACT = "Artifact"
"""What is there for the eye alone, such as a ruler's ticks, and is no element."""


class Tags:
    """The elements of one file, in the order in which their content is drawn."""

    def __init__(self, canvas: Any) -> None:
        from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName

        self._canvas = canvas
        self._document = PDFDictionary({"Type": PDFName("StructElem"), "S": PDFName("Document")})
        self._pages: list[list[Any]] = []
        self._on_page: list[Any] = []
        self.is_open = False
        """Whether what is drawn belongs to an element, or to a drawing that is kept for later."""

    def begin(self, kind: str, alt: str) -> None:
        """What follows is of a standard type of structure, or an artifact; `alt` says in words what it shows."""
        self.is_open = True
        if kind == ARTIFACT:
            self._canvas._code.append(f"/{ARTIFACT} BMC")
            return
        self._canvas._code.append(f"/{kind} <</MCID {len(self._on_page)}>> BDC")
        self._on_page.append(self._canvas._doc.Reference(self._element(kind, alt)))

    def end(self) -> None:
        """The end of it."""
        self._canvas._code.append("EMC")
        self.is_open = False

    def _element(self, kind: str, alt: str) -> Any:
        from reportlab.pdfbase.pdfdoc import PDFDictionary, PDFName, PDFString

        document = self._canvas._doc
        element = PDFDictionary({"Type": PDFName("StructElem"), "S": PDFName(kind), "K": len(self._on_page)})
        element["P"], element["Pg"] = document.Reference(self._document), document.thisPageRef()
        if alt:
            element["Alt"] = PDFString(alt)
        return element

    def close_page(self, page: Any) -> None:
        """Ties a page that is finished to its elements."""
        if self._on_page:
            page.__NoDefault__ = [*page.__NoDefault__, "StructParents"]
            page.StructParents = len(self._pages)
            self._pages.append(self._on_page)
            self._on_page = []

    def catalogue(self) -> None:
        """Hangs the elements into the file's catalogue."""
        from reportlab.pdfbase.pdfdoc import PDFArray, PDFDictionary, PDFName

        if not self._pages:
            return
        document = self._canvas._doc
        parents = [entry for number, page in enumerate(self._pages) for entry in (number, PDFArray(page))]
        root = PDFDictionary({"Type": PDFName("StructTreeRoot"), "K": document.Reference(self._document)})
        root["ParentTree"] = PDFDictionary({"Nums": PDFArray(parents)})
        self._document["P"] = document.Reference(root)
        self._document["K"] = PDFArray([element for page in self._pages for element in page])
        document.Catalog.StructTreeRoot = root
        document.Catalog.MarkInfo = PDFDictionary({"Marked": "true"})
