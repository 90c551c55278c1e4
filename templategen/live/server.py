"""The server: one process on this machine, a page, and what that page asks for."""

import asyncio
import signal
import socket
from collections.abc import AsyncIterator, Callable, Iterator
from contextlib import asynccontextmanager, contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from templategen.live.desk import Desk
from templategen.live.guard import Guard, Pass
from templategen.live.routes import routes_of

HERE = "127.0.0.1"

LONGEST_GOODBYE = 2
"""Seconds that open connections are waited for in the end."""

MOST_CONNECTIONS = 100


@dataclass(frozen=True, slots=True)
class Served:
    """Where the page is: `address` for this machine; for others in the house `shared`, and the code to type there."""

    address: str
    shared: str = ""
    passes: Pass | None = None


def serve(
    path: Path, shop: str | None, share: bool, ready: Callable[[Served], None], renewed: Callable[[str], None]
) -> None:
    """Shows the profile at `path` until the process is interrupted or told to end; `ready` hears the addresses once
    they are answered, `renewed` each new code after one was used.

    Raises:
        ProfileError: the file can't be read.
        OSError: no port is free.
    """
    import uvicorn

    passes = Pass()
    with _listening(share) as listener:
        port = listener.getsockname()[1]
        house = _house() if share else ""
        hosts = frozenset(f"{name}:{port}" for name in (HERE, "localhost", *((house,) if house else ())))
        served = Served(f"http://{HERE}:{port}/{passes.token}/", f"http://{house}:{port}/" if house else "", passes)
        app = _app(Desk(path, shop), passes, hosts, share, renewed)

        class Server(uvicorn.Server):
            async def startup(self, sockets: list[socket.socket] | None = None) -> None:
                """Addresses are told once they are answered."""
                await super().startup(sockets)
                ready(served)

            def handle_exit(self, sig: int, frame: Any) -> None:
                """Pages that look on are let go before the server waits for them."""
                super().handle_exit(sig, frame)
                app.desk.publish("bye", {}, kept=False)

        config = uvicorn.Config(
            app.guard, http="h11", ws="none", loop="asyncio", log_config=None, access_log=False,
            server_header=False, date_header=False, limit_concurrency=MOST_CONNECTIONS, timeout_keep_alive=5,
            timeout_graceful_shutdown=LONGEST_GOODBYE, h11_max_incomplete_event_size=16_384,
        )  # fmt: skip
        with _quiet_end():
            Server(config).run(sockets=[listener])


@dataclass(frozen=True, slots=True)
class _App:
    desk: Desk
    guard: Guard


def _app(
    desk: Desk,
    passes: Pass,
    hosts: frozenset[str],
    share: bool,
    renewed: Callable[[str], None],
) -> _App:
    from starlette.applications import Starlette

    @asynccontextmanager
    async def life(_app: Starlette) -> AsyncIterator[None]:
        watching = asyncio.create_task(desk.watch())
        if share:
            renewed(passes.renew())
        try:
            yield
        finally:
            watching.cancel()
            with suppress(asyncio.CancelledError):
                await watching
            desk.close()

    inner = Starlette(routes=routes_of(desk, passes, renewed if share else None), lifespan=life)
    return _App(desk, Guard(inner, passes, hosts))


@contextmanager
def _quiet_end() -> Iterator[None]:
    """Ends by interrupt or SIGTERM are ends like any other: the server raises the signal again once it has ended, and
    nobody is to die of that."""
    before = {one: signal.signal(one, lambda *_: None) for one in (signal.SIGINT, signal.SIGTERM)}
    try:
        yield
    finally:
        for one, handler in before.items():
            signal.signal(one, handler)


def _listening(share: bool) -> socket.socket:
    """A socket on a free port, of this machine alone or of all its networks."""
    listener = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    listener.bind(("0.0.0.0" if share else HERE, 0))
    return listener


def _house() -> str:
    """This machine's own address in the house; asking for the way sends nothing."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe, suppress(OSError):
        probe.connect(("192.0.2.1", 9))
        return str(probe.getsockname()[0])
    return ""
