"""Packets made from the page: begun, stopped, shown read-only, and downloaded as one archive."""

import asyncio
import re
from base64 import b64encode
from collections.abc import Iterator
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO, Any

from starlette.requests import Request
from starlette.responses import Response, StreamingResponse

from templategen.catalogue import fault_of
from templategen.errors import OutputError
from templategen.live.desk import Desk
from templategen.live.measuring import measures_text
from templategen.output.folder import write_file

NAME = re.compile(r"[^\W_][\w .-]{0,79}")
"""A folder's name that goes on any system."""

KINDS = {
    ".html": "text/html; charset=utf-8", ".svg": "image/svg+xml", ".pdf": "application/pdf",
    ".json": "application/json", ".csv": "text/csv; charset=utf-8", ".toml": "text/plain; charset=utf-8",
    ".dxf": "image/vnd.dxf",
}  # fmt: skip
"""Media types of a packet's files."""

SCRIPT = re.compile(rb"<script>(.*?)</script>", re.DOTALL)

CHUNK = 1 << 18


class Packets:
    """The packets that lie beside the profile, written from this page."""

    def __init__(self, desk: Desk) -> None:
        self.desk = desk

    async def make(self, asked: dict[str, Any]) -> Any:
        """Begins to make the packet of the table as it stands in the file."""
        document = self.desk.document
        effort = asked.get("effort")
        seconds = float(effort) if isinstance(effort, (int, float)) and 0 < effort <= 86_400 else None
        folder = self._folder(asked.get("folder") or f"{document.name}-packet")
        self.desk.begin("made", (str(document.path), document.shop, str(folder), seconds))
        return {"folder": folder.name}

    async def refit(self, asked: dict[str, Any]) -> Any:
        """Keeps what was measured beside the profile and begins to make what is still to cut."""
        document, profile = self.desk.document, self.desk.profile
        entries = asked.get("entries")
        if profile is None or not isinstance(entries, list) or not all(isinstance(one, dict) for one in entries):
            raise OutputError(fault_of("measured", "nothing was measured", "fill in a size of one part"))
        folder = self._folder(asked.get("folder") or f"{document.name}-rest")
        path = _free(document.path.with_name(f"{document.name}-measured.toml"))
        write_file(path, measures_text(entries, profile.units).encode())
        self.desk.begin("refitted", (str(document.path), document.shop, str(path), str(folder)))
        return {"folder": folder.name, "measured": path.name}

    async def stop(self, _asked: dict[str, Any]) -> Any:
        """Stops; the folder stays as it was."""
        await self.desk.stop()
        return {}

    async def file(self, request: Request) -> Response:
        """A file of a packet. Its page runs nothing but its own script, apart from ours."""
        folder = self._packet(request.path_params["name"])
        path = _inside(folder, request.path_params["path"] or "index.html")
        data = await asyncio.to_thread(path.read_bytes)
        kind = KINDS.get(path.suffix, "application/octet-stream")
        return Response(data, 200, {"Content-Security-Policy": _policy(data, path.suffix)}, kind)

    async def archive(self, request: Request) -> Response:
        """The whole packet as a ZIP archive."""
        folder = self._packet(request.path_params["name"])
        file = await asyncio.to_thread(_zipped, folder)
        headers = {"Content-Disposition": f'attachment; filename="{plain_name(folder.name)}.zip"'}
        return StreamingResponse(_chunks(file), 200, headers, "application/zip")

    def _folder(self, name: object) -> Path:
        """A folder beside the profile.

        Raises:
            OutputError: the name isn't plain.
        """
        if not isinstance(name, str) or not NAME.fullmatch(name) or name.endswith((".", " ")):
            raise OutputError(fault_of("folder", "isn't a plain name", "use letters, digits and -"))
        return self.desk.document.path.parent / name

    def _packet(self, name: str) -> Path:
        folder = self._folder(name)
        if folder.is_symlink() or not (folder / "packet.json").is_file():
            raise OutputError(fault_of("packet", "there is no packet of that name", "make it first"))
        return folder


def _free(path: Path) -> Path:
    """The path, or the first with a number behind it that no file has."""
    number = 2
    free = path
    while free.exists():
        free = path.with_name(f"{path.stem}-{number}{path.suffix}")
        number += 1
    return free


def _inside(folder: Path, path: str) -> Path:
    """A file of the folder, links followed.

    Raises:
        OutputError: it lies elsewhere, or isn't there.
    """
    whole = folder.resolve()
    try:
        found = (whole / path).resolve(strict=True)
    except (OSError, ValueError):
        found = whole
    if not found.is_file() or not found.is_relative_to(whole):
        raise OutputError(fault_of("packet", "there is no such file in it", "open its page and go from there"))
    return found


def _policy(data: bytes, suffix: str) -> str:
    scripts = SCRIPT.findall(data) if suffix == ".html" else []
    hashes = " ".join(f"'sha256-{b64encode(sha256(one).digest()).decode()}'" for one in scripts) or "'none'"
    return (f"default-src 'none'; style-src 'unsafe-inline'; img-src 'self' data:; script-src {hashes}; "
            "base-uri 'none'; form-action 'none'; sandbox allow-scripts allow-downloads allow-modals")  # fmt: skip


def _zipped(folder: Path) -> IO[bytes]:
    from zipfile import ZIP_DEFLATED, ZipFile

    file = TemporaryFile()  # noqa: SIM115 (closed by whoever sends it)
    with ZipFile(file, "w", ZIP_DEFLATED, compresslevel=1) as archive:
        for path in sorted(folder.rglob("*")):
            if path.is_file() and not path.is_symlink():
                archive.write(path, f"{folder.name}/{path.relative_to(folder).as_posix()}")
    file.seek(0)
    return file


def _chunks(file: IO[bytes]) -> Iterator[bytes]:
    with file:
        while chunk := file.read(CHUNK):
            yield chunk


def plain_name(name: str) -> str:
    """The name in letters that every header and file system takes."""
    return "".join(sign if sign.isascii() and (sign.isalnum() or sign in "-_.") else "_" for sign in name)
