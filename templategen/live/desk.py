"""The desk: one profile's file with the table that comes of it, what is known of that, and who is looking on."""

import asyncio
from collections.abc import Callable, Mapping
from contextlib import suppress
from functools import partial
from pathlib import Path
from typing import Any

from templategen.catalogue import fault_of
from templategen.errors import DesignError, Fault, OutputError, TemplategenError
from templategen.live.document import Document
from templategen.live.errand import Errand, fault_json
from templategen.live.pictures import shown
from templategen.live.sizes import form, held, rack, workshop_of
from templategen.live.variants import Variants
from templategen.packet.build import in_units
from templategen.packet.table_stages import speak_as
from templategen.table.assembly import Table, build_table
from templategen.table.profile.kept import edited
from templategen.table.profile.locate import locate_faults
from templategen.table.profile.model import Profile

LOOK, SETTLE = 0.3, 0.05
"""How often the file is looked at for what an editor wrote, and how long a change must have stood before findings and
boards are worked out for it, s."""

FIGURES = ("mass", "found", "boards")
"""News of which the figures of a table are made."""

News = tuple[str, Any]


class Desk:
    """Everything the page shows of one profile. Used from one event loop; what takes long runs beside it."""

    def __init__(self, path: Path, shop: str | None = None) -> None:
        self.document = Document(path, shop)
        self.variants = Variants()
        self.table: Table | None = None
        self.profile: Profile | None = None
        self.faults: tuple[Fault, ...] = ()
        self.news: dict[str, Any] = {}
        self.was: dict[str, Any] = {}
        self.listeners: set[asyncio.Queue[News]] = set()
        self._errands: list[Errand] = []
        self._weighing: list[Errand] = []
        self._making: Errand | None = None
        self._soon: asyncio.TimerHandle | None = None
        self._lock = asyncio.Lock()
        self._build()

    async def watch(self) -> None:
        """Follows the file until it is cancelled."""
        self._settle()
        while True:
            await asyncio.sleep(LOOK)
            async with self._lock:
                try:
                    if self.document.reread():
                        await self._follow("in an editor")
                except TemplategenError as refusal:
                    self._refuse(refusal, self.profile)

    def close(self) -> None:
        """Ends all that is under way."""
        if self._soon:
            self._soon.cancel()
        under_way = (*self._errands, *self._weighing, *((self._making,) if self._making else ()))
        for errand in under_way:
            errand.call_off()
        for errand in under_way:
            errand.gone()

    # What the page asks for

    def state(self) -> dict[str, Any]:
        """All but the pictures."""
        document = self.document
        known = self.profile
        return {
            "revision": document.revision, "file": document.path.name, "faults": list(map(fault_json, self.faults)),
            "title": known.title if known else document.name, "units": known.units if known else "mm",
            "form": form(known) if known else None, "held": held(known) if known else {},
            "rack": rack(known) if known else [], "workshop": workshop_of(known, document.shop) if known else None,
            "parts": self._parts(), "built": self.is_built,
            "undo": document.steps[document.place - 1].told if document.place else None,
            "redo": document.steps[document.place].told if document.place < len(document.steps) else None,
            "news": self.news, "was": self.was, "variants": self.variants.listed(self.profile),
            "making": bool(self._making and self._making.goes),
        }  # fmt: skip

    @property
    def is_built(self) -> bool:
        """Whether the picture is of the sizes that stand in the file."""
        return not self.faults

    def _parts(self) -> list[dict[str, Any]]:
        parts = self.table.parts if self.table else ()
        return [{"code": one.code, "name": one.name, "kind": one.kind, "count": one.count} for one in parts]

    async def picture(self, view: str, part: str, narrow: bool = False) -> dict[str, Any]:
        """A picture of the last table that could be built.

        Raises:
            OutputError: there is no such picture.
            DesignError: no table has been built yet.
        """
        async with self._lock:
            table = self.table
        if table is None:
            raise DesignError(self.faults or fault_of("", "there is no table yet", "see what stands at the sizes"))
        return await asyncio.to_thread(shown, table, view, part, narrow)

    async def look(self, changes: Mapping[str, Any], view: str, narrow: bool = False) -> dict[str, Any]:
        """The picture that a change would give; nothing is written.

        Raises:
            ProfileError, DesignError: why not.
        """
        return await asyncio.to_thread(self._looked, changes, view, narrow)

    def _looked(self, changes: Mapping[str, Any], view: str, narrow: bool) -> dict[str, Any]:
        text = edited(self.document.text, changes)
        return shown(build_table(self.document.read(text)), view, narrow=narrow)

    # What changes the file

    async def act(self, act: Callable[[], object], told: str, by: str = "") -> None:
        """Does what changes the document and follows it; raises what it raises."""
        async with self._lock:
            before = self.document.revision
            try:
                await asyncio.to_thread(act)
            finally:
                if self.document.revision != before:
                    await self._follow(told, by)

    async def _follow(self, told: str, by: str = "") -> None:
        await asyncio.to_thread(self._build)
        if self.news.get("found", {}).get("whole") and "boards" in self.news:
            self.was = {name: self.news[name] for name in FIGURES if name in self.news}
        self.news = {name: self.news[name] for name in ("making", "made") if name in self.news}
        self._settle()
        self.publish("revision", {"revision": self.document.revision, "told": told, "by": by}, kept=False)

    def _build(self) -> None:
        profile = None
        try:
            self.profile = profile = self.document.profile
            speak_as(profile)
            self.table = build_table(profile)
            self.faults = ()
        except TemplategenError as refusal:
            self._refuse(refusal, profile)

    def _refuse(self, refusal: TemplategenError, profile: Profile | None) -> None:
        units = profile.units if profile else "mm"
        bare = [in_units(fault, units) if not fault.file else fault for fault in refusal.faults]
        self.faults = locate_faults(self.document.text, self.document.path.name, bare)

    # What is worked out beside

    def _settle(self) -> None:
        """Calls off what was worked out for other sizes; begins anew once these have stood for a moment."""
        for errand in self._errands:
            errand.call_off()
        self._errands = []
        if self._soon:
            self._soon.cancel()
        self._soon = asyncio.get_running_loop().call_later(SETTLE, self._reckon)

    def _reckon(self) -> None:
        self._errands = [self._for_now("judged")]

    def _for_now(self, work: str) -> Errand:
        return self._judging(work, self.document.text, partial(self._hear, self.document.revision))

    def _judging(self, work: str, text: str, hear: Callable[[str, Any], None]) -> Errand:
        return self._errand(work, (text, str(self.document.path), self.document.shop), hear)

    def _errand(self, work: str, takes: tuple[Any, ...], hear: Callable[[str, Any], None]) -> Errand:
        """Work beside the loop, whose news are heard in it."""
        loop = asyncio.get_running_loop()

        def told(kind: str, news: Any) -> None:
            with suppress(RuntimeError):
                loop.call_soon_threadsafe(hear, kind, news)

        return Errand(work, takes, told)

    def _hear(self, revision: int | None, kind: str, news: Any) -> None:
        if revision is not None and revision != self.document.revision:
            return
        if kind == "found" and "found" not in self.news and self.is_built:
            self._errands.append(self._for_now("laid_out"))
        if kind == "mends":
            news = [*self.news.get("mends", []), news]
        if kind == "refused" and revision is not None:
            return
        if kind == "end" and (revision is not None or not self.news.get("making")):
            return
        if kind in ("made", "refused", "end"):
            self.news.pop("making", None)
        self.publish(kind, news)
        if revision is not None:
            self._learn(self.document.text, kind, news)

    def _learn(self, text: str, kind: str, news: Any) -> None:
        """What is told of a table is told of the variants that are alike."""
        if kind in FIGURES and self.variants.learn(text, kind, news):
            self.publish("variants", self.variants.listed(self.profile), kept=False)

    def weigh(self, text: str) -> None:
        """Works out the figures of a variant that isn't the table in the file."""
        self._weighing = [one for one in self._weighing if one.goes]
        self._weighing += [self._judging(work, text, partial(self._learn, text)) for work in ("judged", "laid_out")]

    def publish(self, kind: str, news: Any, kept: bool = True) -> None:
        """Tells all who look on; what is kept is told to those who come later, too."""
        if kept and kind not in ("laying", "end"):
            self.news[kind] = news
        for queue in self.listeners:
            if queue.qsize() < 1000:
                queue.put_nowait((kind, news))

    # The packet

    def begin(self, work: str, takes: tuple[Any, ...]) -> None:
        """Begins to make a packet.

        Raises:
            OutputError: one is being made.
        """
        if self._making and self._making.goes:
            raise OutputError(fault_of("", "a packet is being made", "wait for it, or stop it"))
        for kind in ("made", "refused"):
            self.news.pop(kind, None)
        self.publish("making", {"what": "begun", "done": 0.0})
        self._making = self._errand(work, takes, partial(self._hear, None))

    async def stop(self) -> None:
        """Stops making a packet; the folder stays as it was."""
        if self._making:
            await asyncio.to_thread(self._making.call_off)
            self._making = None
        self.news.pop("making", None)
        self.publish("stopped", {}, kept=False)
