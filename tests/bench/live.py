"""How long the page takes to follow a change in a real browser: `python -m tests.bench.live [PROFILE] [--changes N]`.

A size is typed and left; until the new picture is painted, until findings without and with the fit are told, until
boards and cost are. Prints medians and the worst of each, and a row for DEVELOPERS.md. With `--sitting N` what the
server holds in memory through so many random changes instead; a person makes about ten a minute.
"""

from __future__ import annotations

import sys
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory

from templategen.packet.shipped import shipped_text
from tests.live.browser import browsing, until
from tests.live.conftest import ended, opened
from tests.live.sitting import sitting

PAINTED = """([key, value]) => new Promise((done) => {
  const field = document.getElementById('k-' + key.replace('.', '-')), flat = document.getElementById('flat');
  const begun = performance.now();
  const seen = new MutationObserver((changes) => {
    if (!changes.some((one) => one.target === flat)) { return; }
    seen.disconnect();
    requestAnimationFrame(() => requestAnimationFrame(() => done(performance.now() - begun)));
  });
  seen.observe(flat, { childList: true });
  field.value = value;
  field.dispatchEvent(new Event('change', { bubbles: true }));
})"""
"""Types a size and tells after how many ms the picture was painted."""

TOLD = {
    "findings": "document.getElementById('going').textContent !== 'being measured'",
    "with the fit": "document.getElementById('going').textContent === ''",
    "boards and cost": "document.getElementById('laying').textContent === ''",
}


def main() -> None:
    """Measures."""
    words = sys.argv[1:]
    changes = int(words[words.index("--changes") + 1]) if "--changes" in words else 10
    name = words[0] if words and not words[0].startswith("-") else "towpath-dining"
    if "--sitting" in words:
        _sit(name, int(words[words.index("--sitting") + 1]))
        return
    taken: dict[str, list[float]] = {"picture": [], **{what: [] for what in TOLD}}
    with TemporaryDirectory() as folder:
        path = Path(folder) / "terrace.toml"
        path.write_text(shipped_text(name), encoding="utf-8")
        page = opened(path)
        with browsing(page.url) as view:
            until(view, TOLD["boards and cost"], 120)
            size = float(view.locator("#k-top-diameter").input_value())
            for number in range(changes):
                value = str(size + (number + 1) * (1 if size > 100 else 1 / 16))
                picture = view.evaluate(PAINTED, ["top.diameter", value]) / 1000
                taken["picture"].append(picture)
                spent = picture
                for what, holds in TOLD.items():
                    spent += until(view, holds, 120)
                    taken[what].append(spent)
        ended(page)
    for what, each in taken.items():
        print(f"{what:<16} median {median(each):6.3f} s, worst {max(each):6.3f} s")
    print(f"| {name} | " + " | ".join(f"{median(each):.2f} s" for each in taken.values()) + " |")


def _sit(name: str, changes: int) -> None:
    with TemporaryDirectory() as folder:
        path = Path(folder) / "terrace.toml"
        path.write_text(shipped_text(name), encoding="utf-8")
        page = opened(path)
        for number, held in sitting(page, changes, max(1, changes // 12)):
            print(f"{number:>5} changes, {held:6.1f} MB", flush=True)
        ended(page)


if __name__ == "__main__":
    main()
