"""What the page may ask for, and what it is answered."""

import asyncio
import json
from collections.abc import AsyncIterator, Awaitable, Callable, Mapping
from pathlib import Path
from typing import Any

from starlette.requests import ClientDisconnect, Request
from starlette.responses import JSONResponse, RedirectResponse, Response, StreamingResponse
from starlette.routing import Route

from templategen.catalogue import fault_of, translated
from templategen.errors import Fault, OutputError, ProfileError, TemplategenError, arose_at
from templategen.live.desk import Desk
from templategen.live.document import ConflictError
from templategen.live.errand import fault_json
from templategen.live.guard import DOOR_POLICY, TOO_LARGE, Pass, TooLargeError
from templategen.live.measuring import measuring
from templategen.live.packets import Packets, plain_name
from templategen.live.pictures import shown
from templategen.live.spoken import live_page
from templategen.live.variants import variant
from templategen.table.assembly import build_table

PAGE = Path(__file__).parent / "page"
TURNING = Path(__file__).parent.parent / "output" / "page" / "turning.js"

KINDS = {".html": "text/html; charset=utf-8", ".css": "text/css; charset=utf-8",
         ".js": "text/javascript; charset=utf-8", ".svg": "image/svg+xml"}  # fmt: skip
"""Media types of our own files."""

MOST_PAGES = 24
"""So many windows may look on at once."""

HEARTBEAT = 15.0
"""Seconds of quiet after which a line without meaning shows that the connection stands."""

MOST_CHANGES, MOST_TEXT = 200, 1_000_000

Asked = dict[str, Any]
Answer = Callable[[Request], Awaitable[Response]]


def routes_of(desk: Desk, passes: Pass, renewed: Callable[[str], None] | None) -> list[Route]:
    """Every address behind the token, and the door before it."""
    ask = _Ask(desk)
    packets = Packets(desk)
    get: Mapping[str, Answer] = {
        "/": ask.page, "/page/{name}": ask.file, "/state": ask.state, "/events": ask.events, "/picture": ask.picture,
        "/profile.toml": ask.profile, "/variants/{number:int}.toml": ask.variant, "/measuring": ask.measuring,
        "/packet/{name}/{path:path}": packets.file, "/archive/{name}.zip": packets.archive,
    }  # fmt: skip
    post: Mapping[str, Callable[[Asked], Awaitable[Any]]] = {
        "/change": ask.change, "/look": ask.look, "/undo": ask.undo, "/redo": ask.redo,
        "/variants/keep": ask.keep, "/variants/lay": ask.lay, "/variants/take": ask.take,
        "/variants/away": ask.away, "/make": packets.make, "/stop": packets.stop, "/refit": packets.refit,
    }  # fmt: skip
    door = _Door(passes, renewed)
    return [
        *(Route(path, _refusals_told(answer), methods=["GET"]) for path, answer in get.items()),
        *(Route(path, _refusals_told(_posted(answer)), methods=["POST"]) for path, answer in post.items()),
        Route("/door", door.answer, methods=["GET", "POST"]),
        Route("/door.css", door.style, methods=["GET"]),
    ]


OURS = ("this is a mistake in templategen: {place}", "what stands in the file is as it was")


def _refusals_told(answer: Answer) -> Answer:
    """An answer whose refusals are told as faults."""

    async def told(request: Request) -> Response:
        if not request.scope.get("ours"):
            return Response("nothing is here", 404)
        try:
            return await answer(request)
        except ConflictError as refusal:
            return _refused(refusal, 409)
        except TemplategenError as refusal:
            return _refused(refusal, 422)
        except OSError as trouble:
            words = (trouble.strerror or str(trouble)).lower()
            return _refused(OutputError(Fault("", words, translated("nothing was written"))), 422)
        except Exception as trouble:
            place = f"{type(trouble).__name__}{arose_at(trouble)}"
            return _refused(OutputError(fault_of("", *OURS, place=place)), 500)

    return told


def _refused(refusal: TemplategenError, status: int) -> JSONResponse:
    return JSONResponse({"faults": [fault_json(fault) for fault in refusal.faults]}, status)


def _posted(answer: Callable[[Asked], Awaitable[Any]]) -> Answer:
    """An answer to JSON that the page sends."""

    async def posted(request: Request) -> Response:
        if request.headers.get("content-type", "").partition(";")[0].strip() != "application/json":
            return Response("JSON is wanted", 415)
        try:
            asked = json.loads(await request.body())
        except ClientDisconnect:
            return Response("", 499)
        except TooLargeError:
            return Response(TOO_LARGE, 413)
        except (ValueError, RecursionError):
            return Response("this is not JSON", 400)
        if not isinstance(asked, dict):
            return Response("an object is wanted", 400)
        return JSONResponse(await answer(asked))

    return posted


class _Ask:
    """Answers from the desk."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    async def page(self, _request: Request) -> Response:
        return Response(live_page(), media_type=KINDS[".html"])

    async def file(self, request: Request) -> Response:
        name = request.path_params["name"]
        if name == "drawing.css":
            from templategen.output.svg_style import drawing_style

            return Response(drawing_style(), media_type=KINDS[".css"])
        if name == "turning.js":
            return Response(TURNING.read_text(encoding="utf-8") + "\nexport { turning };\n", media_type=KINDS[".js"])
        known = {path.name: path for path in PAGE.iterdir() if path.suffix in KINDS and path.name != "index.html"}
        return _file(known[name]) if name in known else Response("nothing is here", 404)

    async def state(self, _request: Request) -> Response:
        return JSONResponse(await asyncio.to_thread(self.desk.state))

    async def picture(self, request: Request) -> Response:
        query = request.query_params
        found = await self.desk.picture(query.get("view", "above"), query.get("part", ""), bool(query.get("narrow")))
        return JSONResponse({"revision": self.desk.document.revision, **found})

    async def profile(self, _request: Request) -> Response:
        return _download(self.desk.document.text, f"{self.desk.document.name}.toml")

    async def variant(self, request: Request) -> Response:
        number = request.path_params["number"]
        return _download(self.desk.variants[number].text, f"{self.desk.document.name}-variant-{number}.toml")

    async def measuring(self, request: Request) -> Response:
        if self.desk.table is None:
            raise OutputError(fault_of("", "there is no table yet", "see what stands at the sizes"))
        return JSONResponse(
            await asyncio.to_thread(measuring, self.desk.table, bool(request.query_params.get("narrow")))
        )

    async def events(self, _request: Request) -> Response:
        if len(self.desk.listeners) >= MOST_PAGES:
            return Response("too many windows look on; close one", 503)
        headers = {"X-Accel-Buffering": "no"}
        return StreamingResponse(self._stream(), media_type="text/event-stream", headers=headers)

    async def _stream(self) -> AsyncIterator[str]:
        queue: asyncio.Queue[tuple[str, Any]] = asyncio.Queue()
        self.desk.listeners.add(queue)
        try:
            yield _event("hello", {"revision": self.desk.document.revision})
            for kind, news in list(self.desk.news.items()):
                if kind != "mends":
                    yield _event(kind, news)
            if "mends" in self.desk.news:
                yield _event("mends", self.desk.news["mends"])
            while True:
                try:
                    kind, news = await asyncio.wait_for(queue.get(), HEARTBEAT)
                except TimeoutError:
                    yield ": still here\n\n"
                    continue
                yield _event(kind, news)
                if kind == "bye":
                    return
        finally:
            self.desk.listeners.discard(queue)

    async def change(self, asked: Asked) -> Any:
        changes = _changes(asked)
        told, document = str(asked.get("told") or ", ".join(changes))[:120], self.desk.document
        try:
            await self.desk.act(lambda: document.change(changes, _number(asked, "revision"), told), told, _by(asked))
        except ProfileError as refusal:
            from templategen.live.mend import for_faults

            offers = await asyncio.to_thread(for_faults, document.profile, refusal.faults, changes)
            return {"faults": [fault_json(one) for one in refusal.faults], "offers": offers}
        return await self._after(asked)

    async def undo(self, asked: Asked) -> Any:
        await self.desk.act(lambda: self.desk.document.undo(_number(asked, "revision")), "taken back", _by(asked))
        return await self._after(asked)

    async def redo(self, asked: Asked) -> Any:
        await self.desk.act(lambda: self.desk.document.redo(_number(asked, "revision")), "done again", _by(asked))
        return await self._after(asked)

    async def _after(self, asked: Asked) -> Any:
        """What stands now, with the picture that the page shows, so that it needs to ask but once."""
        view, part = str(asked.get("view", "above")), str(asked.get("part", ""))
        state = await asyncio.to_thread(self.desk.state)
        picture = await self.desk.picture(view, part, bool(asked.get("narrow"))) if self.desk.is_built else None
        state.pop("form")
        return {**state, "picture": picture}

    async def look(self, asked: Asked) -> Any:
        return await self.desk.look(_changes(asked), str(asked.get("view", "above")), bool(asked.get("narrow")))

    async def keep(self, asked: Asked) -> Any:
        desk = self.desk
        picture = await asyncio.to_thread(shown, desk.table, "above") if desk.table else {"svg": [""]}
        figures: Asked = {name: desk.news[name] for name in ("mass", "found", "boards") if name in desk.news}
        one = variant(
            str(asked.get("name", "")), desk.document.text, desk.document.profile, figures, picture["svg"][0]
        )
        desk.variants.keep(one)
        return self._listed()

    async def lay(self, asked: Asked) -> Any:
        """A variant from a TOML that someone shared."""
        text = asked.get("text")
        if not isinstance(text, str) or len(text) > MOST_TEXT:
            raise OutputError(fault_of("", "no profile was given", "choose a TOML file"))
        profile = self.desk.document.beside(text)
        picture = await asyncio.to_thread(shown, build_table(profile), "above")
        self.desk.variants.keep(variant(str(asked.get("name", "")), text, profile, {}, picture["svg"][0]))
        self.desk.weigh(text)
        return self._listed()

    async def take(self, asked: Asked) -> Any:
        one, document = self.desk.variants[_number(asked, "number")], self.desk.document
        told = f"variant {one.name}"
        await self.desk.act(lambda: document.become(one.text, _number(asked, "revision"), told), told, _by(asked))
        return await self._after(asked)

    async def away(self, asked: Asked) -> Any:
        self.desk.variants.kept.pop(_number(asked, "number"), None)
        return self._listed()

    def _listed(self) -> Any:
        listed = self.desk.variants.listed(self.desk.profile)
        self.desk.publish("variants", listed, kept=False)
        return {"variants": listed}


class _Door:
    """Where a device in the house types its code."""

    def __init__(self, passes: Pass, renewed: Callable[[str], None] | None) -> None:
        self.passes, self.renewed = passes, renewed

    async def answer(self, request: Request) -> Response:
        if self.renewed is None:
            return Response("nothing is here; open the address that templategen printed", 404)
        if request.method == "GET":
            return _file(PAGE / "door.html", DOOR_POLICY)
        code = (await request.body())[:100].decode("ascii", "replace").removeprefix("code=").strip()
        if self.passes.opens(code):
            self.renewed(self.passes.renew())
            return RedirectResponse(f"/{self.passes.token}/", 303)
        if not self.passes.code:
            self.renewed(self.passes.renew())
        return _file(PAGE / "door-wrong.html", DOOR_POLICY, 403)

    async def style(self, _request: Request) -> Response:
        return _file(PAGE / "door.css")


def _changes(asked: Asked) -> dict[str, Any]:
    changes = asked.get("changes")
    if not isinstance(changes, dict) or not changes or len(changes) > MOST_CHANGES:
        raise OutputError(fault_of("changes", "nothing is to be changed", "give a key and its value"))
    return changes


def _number(asked: Asked, name: str) -> int:
    """A whole number that the page sends; -1, which nothing has, where it sends something else."""
    found = asked.get(name)
    return found if isinstance(found, int) else -1


def _by(asked: Asked) -> str:
    return str(asked.get("by", ""))[:40]


def _event(kind: str, news: Any) -> str:
    return f"event: {kind}\ndata: {json.dumps(news, ensure_ascii=False)}\n\n"


def _file(path: Path, policy: str = "", status: int = 200) -> Response:
    headers = {"Content-Security-Policy": policy} if policy else {}
    return Response(path.read_bytes(), status, headers, KINDS[path.suffix])


def _download(text: str, name: str) -> Response:
    headers = {"Content-Disposition": f'attachment; filename="{plain_name(name)}"'}
    return Response(text.encode(), 200, headers, "application/toml")
