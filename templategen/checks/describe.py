"""Findings in words: the one place where a kind and its fields become sentences, in the maker's own units."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from templategen.catalogue import figured, translated
from templategen.checks.sentences import EACH, PHRASES, SENTENCES
from templategen.checks.wording import IMPERIAL, counted, finer, format_range, format_size, rounded_up, shown

if TYPE_CHECKING:
    from templategen.checks.finding import Finding

MOST = 6
"""So many pieces are named, of more their number."""

_PERHAPS = re.compile(r"\[([^\[\]]*)\]")
_PLACE = re.compile(r"\{(\w+)(?::([^}]*))?\}")


@dataclass(frozen=True, slots=True)
class Description:
    """A finding in words: what was measured, what came out, what is wanted, why, and what is to be done."""

    says: str
    measured: str
    wanted: str
    why: str
    do: str

    @property
    def figures(self) -> str:
        """What came out, against which limit."""
        return ", ".join(words for words in (self.measured, self.wanted) if words)

    @property
    def whole(self) -> str:
        """What was measured with its figures."""
        return ": ".join(words for words in (self.says, self.figures) if words)


def describe(finding: Finding, units: str) -> Description:
    """The finding's words, with sizes in `units`."""
    sentence, fields = SENTENCES[finding.kind], finding.fields
    says, why, do = (filled(text, fields, units) for text in (sentence.says, sentence.why, sentence.do))
    if finding.would:
        would = filled("{change} would do", {"change": str(finding.would)}, units)
        why = f"{why}; {would}" if why else would
    digits = finer(finding.measured, finding.wanted, sentence.unit, units)
    measured = figured(format_size(finding.measured, sentence.unit, units, digits))
    if sentence.unit == "mm" and finding.measured < 0:
        measured = filled("none ({lacking:size} is lacking)", {"lacking": -finding.measured}, units)
    return Description(says, measured, figured(format_range(finding.wanted, sentence.unit, units, digits)), why, do)


def said(text: str, units: str = "mm", /, **fields: Any) -> str:
    """A text of the catalogue with these fields, as `filled`."""
    return filled(text, fields, units)


def filled(text: str, fields: Mapping[str, Any], units: str) -> str:
    """A text of the catalogue with its fields, in the language that is spoken; what stands in square brackets only
    where all fields in it are there."""

    def perhaps(found: re.Match[str]) -> str:
        return found[1] if all(_is_there(fields.get(place[1])) for place in _PLACE.finditer(found[1])) else ""

    kept = _PERHAPS.sub(perhaps, translated(text)).removeprefix("; ")
    return _PLACE.sub(lambda found: _shown(fields[found[1]], found[2] or "", units), kept)


def _is_there(value: Any) -> bool:
    return value is not None and value is not False and value != "" and value != ()


def _shown(value: Any, form: str, units: str) -> str:
    said = _form(value, form, units)
    return figured(said) if isinstance(value, (int, float)) else said


def _form(value: Any, form: str, units: str) -> str:
    """One field: `mm` (`mm.2` with so many decimals), `up` (rounded up), `size` and `deg` are sizes like `N` or `kg`,
    `# slat` counts, `all` names every one of several, `word` is a word of ours, `?` says nothing, a table's name what
    it has; anything else is Python's own format."""
    if form in PHRASES:
        return translated(PHRASES[form].get(value, ""))
    if form in EACH:
        between, text = EACH[form]
        return translated(between).join(
            filled(text, one if isinstance(one, Mapping) else {"one": one}, units) for one in value
        )
    if form == "word":
        return translated(value)
    if form.startswith("#"):
        return counted(value, form[2:])
    if form.startswith("mm"):
        return shown(value, units, int(form[3:] or 1))
    if form == "up":
        return rounded_up(value, units)
    if form in (*IMPERIAL, "deg", "size"):
        return format_size(value, "mm" if form == "size" else form, units)
    if form == "?":
        return ""
    return format(value, form) if form and form != "all" else _listed(value, form)


def _listed(value: Any, form: str) -> str:
    if not isinstance(value, (tuple, list)):
        return str(value)
    named = value if form == "all" or len(value) <= MOST else value[:MOST]
    more = translated(" and {} more").format(len(value) - MOST) if len(named) < len(value) else ""
    return ", ".join(named) + more
