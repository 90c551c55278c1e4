"""The page of proposals as an outside checker of accessibility and our own of letters see it."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from templategen.packet.shipped import shipped_text
from templategen.suit.files import files_of
from templategen.suit.proposal import proposal
from templategen.suit.variant import asked
from templategen.table.profile.read import profile_from_text
from tests.page.browser import browsing, loaded, looks, written
from tests.page.checker import armed, complaints
from tests.page.test_screens import AMISS, LEAST, seen_as

WISHES = {
    "towpath-side": (552, '"top.diameter" = [541, 577]\ncounts = ["cost", "mass"]'),
    "towpath-inch": (54, '"top.diameter" = [51, 57.5]\n"slats.run" = ["along", "across"]\ncounts = ["size"]'),
}


@pytest.mark.slow
@pytest.mark.parametrize("name", WISHES)
def test_neither_has_anything_to_say(name: str, tmp_path: Path) -> None:
    """On a phone, a tablet, a desk and paper, in light and dark; of tables as far and as dear as each other too."""
    wide, wishes = WISHES[name]
    profile = profile_from_text(f"{shipped_text(name)}\n[suit]\n{wishes}\n", name)
    own = proposal(profile, asked(profile))
    found = [replace(own, distance=far, changes=(("top.diameter", wide),)) for far in (0.2, 0.2, 0.201, 0.3)]
    html = files_of(profile, own, found)["index.html"].decode()
    with browsing() as browser:
        view = loaded(browser, written(tmp_path, html))
        for width, look in seen_as(html):
            looks(view, width, look)
            told = view.evaluate(f"settled().then(() => measured({LEAST[width]}))")
            assert told["scroll"] <= width
            assert {what: told[what] for what in AMISS if told[what]} == {}, (width, look)
        view.close()
        view = loaded(browser, written(tmp_path, html))
        armed(view)
        assert {where: what for where, what in complaints(view, seen_as(html)).items() if what} == {}
