"""A sitting of many random changes, asked for directly, as the page asks: what the server holds meanwhile.

Sizes are changed in all ways (typed, drawn about, refused, taken back, written by an editor), pictures of every kind
seen, variants kept and put away; now and then the table is let stand until all is told.
"""

from __future__ import annotations

import json
import os
import random
from collections.abc import Iterator
from dataclasses import dataclass, field
from http.client import HTTPConnection
from pathlib import Path
from time import monotonic, sleep
from typing import Any

from tests.live.conftest import Open

VIEWS = ("above", "section", "round", "apart", "part")

SIZES = ("top.diameter", "top.height", "top.rim_width", "top.rail_width", "slats.width", "legs.section",
         "base.length", "base.thickness")  # fmt: skip

STANDS = 20
"""Every so many changes the table is let stand until findings, boards and cost are told."""


@dataclass(slots=True)
class Sitting:
    """One at a page."""

    page: Open
    rnd: random.Random
    revision: int = 0
    first: dict[str, float] = field(default_factory=dict)

    def ask(self, where: str, what: object = None) -> Any:
        """The answer as JSON; changes go by POST."""
        host, _, port = self.page.host.partition(":")
        line = HTTPConnection(host, int(port), timeout=120)
        body = None if what is None else json.dumps({"revision": self.revision, **dict(what)})  # type: ignore[call-overload]
        own = {"Origin": f"http://{self.page.host}", "Content-Type": "application/json"} if body else {}
        line.request("POST" if body else "GET", f"/{self.page.token}/{where}", body, own)
        answer = line.getresponse()
        told = json.loads(answer.read())
        line.close()
        assert answer.status in (200, 409, 422), (where, answer.status, told)
        self.revision = told.get("revision", self.revision)
        return told

    def begin(self) -> None:
        """Sizes as they stand."""
        state = self.ask("state")
        self.first = {key: float(state["held"][key]["value"]) for key in SIZES}

    def change(self, number: int) -> None:
        """One change, of the kind that chance takes."""
        key, chance = self.rnd.choice(SIZES), self.rnd.random()
        value = round(self.first[key] * self.rnd.uniform(0.97, 1.03), 1)
        seen = {"view": VIEWS[number % len(VIEWS)], "part": "LEG"}
        if chance < 0.75:
            for share in (0.3, 0.6, 0.9) if chance < 0.3 else ():
                drawn = self.first[key] + share * (value - self.first[key])
                self.ask("look", {"changes": {key: round(drawn, 1)}, "view": "above"})
            self.ask("change", {"changes": {key: value}, **seen})
        elif chance < 0.87:
            self.ask(self.rnd.choice(("undo", "redo")), seen)
        elif chance < 0.91:
            self.ask("change", {"changes": {key: 99_999}, **seen})
        elif chance < 0.94:
            self.ask("change", {"changes": {"top.thickness": 14.5}, **seen})
            self.ask("undo", seen)
        elif chance < 0.97:
            listed = self.ask("variants/keep", {"name": f"{number}"}).get("variants", [])
            if len(listed) > 3:
                self.ask("variants/away", {"number": listed[0]["number"]})
        else:
            text = self.page.path.read_text(encoding="utf-8")
            self.page.path.write_text(f"{text}# {number}\n", encoding="utf-8")
            sleep(0.4)
            self.ask("state")

    def stand(self, seconds: float = 240.0) -> None:
        """Waits until all is told of what stands there."""
        end = monotonic() + seconds
        while True:
            told = self.ask("state")
            if not told["built"] or (told["news"].get("found", {}).get("whole") and "boards" in told["news"]):
                return
            assert monotonic() < end, "findings and boards are never told"
            sleep(0.2)


def megabytes(process: int) -> float:
    """What a process holds of the machine's memory."""
    pages = Path(f"/proc/{process}/statm").read_text(encoding="utf-8").split()[1]
    return int(pages) * os.sysconf("SC_PAGE_SIZE") / 1e6


def sitting(page: Open, changes: int, every: int, seed: int = 5) -> Iterator[tuple[int, float]]:
    """So many changes; after each `every` of them how many there were and what the server holds, MB."""
    one = Sitting(page, random.Random(seed))
    one.begin()
    for number in range(1, changes + 1):
        one.change(number)
        if number % STANDS == 0:
            one.stand()
        if number % every == 0:
            yield number, megabytes(page.process.pid)
