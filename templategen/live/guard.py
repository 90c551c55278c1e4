"""The door of the server: who may ask, from where, how much and how often; what a browser may do with an answer."""

from collections.abc import Callable
from dataclasses import dataclass, field
from hmac import compare_digest
from secrets import randbelow, token_urlsafe
from time import monotonic
from typing import Any

LARGEST = 1_200_000
"""Bytes of a request's body: a profile of 1 MB as JSON."""

TOO_LARGE = "that is more than a profile of 1 MB"

EACH_SECOND, AT_ONCE = 60.0, 240.0
"""Requests that are answered: so many a second for long, so many in one burst."""

TRIES = 5
"""A code that so many wrong ones were given for is void."""

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data:; connect-src 'self'; "
    "frame-src 'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"
)
"""The content policy (W3C CSP 3) of the page: its own files and nothing else, no code in texts."""

DOOR_POLICY = "default-src 'none'; style-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'"

HEADERS = (
    (b"x-content-type-options", b"nosniff"),
    (b"referrer-policy", b"no-referrer"),
    (b"cross-origin-opener-policy", b"same-origin"),
    (b"cross-origin-resource-policy", b"same-origin"),
    (b"cache-control", b"no-store"),
)

Scope = dict[str, Any]
App = Callable[[Scope, Any, Any], Any]


class TooLargeError(Exception):
    """A body beyond `LARGEST`."""


@dataclass(slots=True)
class Pass:
    """The token in the address, and with `--share` a code of six digits that lets one device in."""

    token: str = field(default_factory=lambda: token_urlsafe(24))
    code: str = ""
    wrong: int = 0

    def renew(self) -> str:
        """A new code."""
        self.code, self.wrong = f"{randbelow(1_000_000):06d}", 0
        return self.code

    def opens(self, code: str) -> bool:
        """Whether it is the code, which is then spent; wrong ones are counted."""
        right = bool(self.code) and compare_digest(code.encode(), self.code.encode())
        if right:
            self.code = ""
            return True
        self.wrong += 1
        if self.wrong >= TRIES:
            self.code = ""
        return False


@dataclass(slots=True)
class Bucket:
    """How many requests are still let through; it fills up with time."""

    left: float = AT_ONCE
    at: float = field(default_factory=monotonic)

    def lets(self, now: float) -> bool:
        """Whether one more is let through at that second."""
        self.left = min(AT_ONCE, self.left + (now - self.at) * EACH_SECOND)
        self.at = now
        if self.left < 1:
            return False
        self.left -= 1
        return True


class Guard:
    """Wraps the application (ASGI): whatever isn't asked by our own page is refused before it is looked at."""

    def __init__(self, app: App, passes: Pass, hosts: frozenset[str]) -> None:
        self.app, self.passes, self.hosts = app, passes, hosts
        self.bucket = Bucket()

    async def __call__(self, scope: Scope, receive: Any, send: Any) -> None:
        if scope["type"] != "http":
            await self.app(scope, receive, send)
            return
        headers = {name.lower(): value.decode("latin-1") for name, value in scope["headers"]}
        refused = self._refusal(scope, headers)
        if refused:
            await _answer(send, *refused)
            return
        inner = self._inner(scope)
        if inner is None:
            await _answer(send, 404, "nothing is here; open the address that templategen printed")
            return
        await self.app(inner, _counted(receive), _headed(send))

    def _refusal(self, scope: Scope, headers: dict[bytes, str]) -> tuple[int, str] | None:
        if not self.bucket.lets(monotonic()):
            return 429, "too many requests at once; wait a moment"
        if headers.get(b"host", "") not in self.hosts:
            return 421, "this isn't the address that templategen printed"
        origin, site = headers.get(b"origin"), headers.get(b"sec-fetch-site")
        ours = origin is not None and origin in {f"http://{host}" for host in self.hosts}
        if (origin is not None and not ours) or site in ("cross-site", "same-site"):
            return 403, "another page may not ask here"
        if scope["method"] not in ("GET", "HEAD", "POST"):
            return 405, "no such way of asking"
        if scope["method"] == "POST" and not (ours or site == "same-origin"):
            return 403, "only the page itself may change anything"
        length = headers.get(b"content-length", "0")
        if not length.isdecimal() or len(length) > 9 or int(length) > LARGEST:
            return 413, TOO_LARGE
        return None

    def _inner(self, scope: Scope) -> Scope | None:
        """The request as it reads behind the token; the door itself needs none."""
        first, _, rest = scope["path"].removeprefix("/").partition("/")
        if compare_digest(first.encode("utf-8", "replace"), self.passes.token.encode()):
            return {**scope, "path": f"/{rest}", "raw_path": None, "ours": True}
        if scope["path"] in ("/", "/door", "/door.css"):
            return {**scope, "path": "/door.css" if scope["path"] == "/door.css" else "/door", "ours": False}
        return None


def _counted(receive: Any) -> Any:
    taken = 0

    async def counted() -> Any:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > LARGEST:
            raise TooLargeError
        return message

    return counted


def _headed(send: Any) -> Any:
    async def headed(message: Any) -> None:
        if message["type"] == "http.response.start":
            own = list(message.get("headers", []))
            names = {name for name, _ in own}
            policy = [] if b"content-security-policy" in names else [(b"content-security-policy", POLICY.encode())]
            message = {**message, "headers": [*own, *HEADERS, *policy]}
        await send(message)

    return headed


async def _answer(send: Any, status: int, words: str) -> None:
    body = words.encode()
    headers = [(b"content-type", b"text/plain; charset=utf-8"), (b"content-length", str(len(body)).encode()),
               (b"content-security-policy", b"default-src 'none'"), *HEADERS]  # fmt: skip
    await send({"type": "http.response.start", "status": status, "headers": headers})
    await send({"type": "http.response.body", "body": body})
