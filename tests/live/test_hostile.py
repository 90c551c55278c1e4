"""Whatever isn't asked by our own page is refused, and harms nothing."""

from __future__ import annotations

import json
import socket
from http.client import HTTPConnection
from pathlib import Path

import pytest

from templategen.live.guard import AT_ONCE, EACH_SECOND, Bucket
from tests.live.conftest import Open


def asked(
    page: Open, method: str, path: str, body: bytes | None = None, token: bool = True, **headers: str
) -> tuple[int, bytes, dict[str, str]]:
    """Status, body and headers of one request, as our own page would send it unless `headers` say otherwise."""
    host, _, port = page.host.partition(":")
    line = HTTPConnection(host, int(port), timeout=10)
    own = {"Origin": f"http://{page.host}", "Content-Type": "application/json"} if method == "POST" else {}
    given = {name.replace("_", "-"): value for name, value in headers.items()}
    line.request(method, f"/{page.token}{path}" if token else path, body, {**own, **given})
    answer = line.getresponse()
    told = answer.status, answer.read(), {name.lower(): value for name, value in answer.getheaders()}
    line.close()
    return told


def change(page: Open, changes: object, revision: int | None = None, **headers: str) -> int:
    """Status of a change to what stands there now."""
    now = json.loads(asked(page, "GET", "/state")[1])["revision"] if revision is None else revision
    return asked(page, "POST", "/change", json.dumps({"revision": now, "changes": changes}).encode(), **headers)[0]


@pytest.fixture(autouse=True)
def untouched(page: Open) -> object:
    """The file after a test is the file before it, and the page still answers."""
    before = page.path.read_bytes()
    yield
    assert page.path.read_bytes() == before
    assert asked(page, "GET", "/state")[0] == 200


def test_the_page_comes_under_a_strict_policy(page: Open) -> None:
    """Own origin only, no code in texts, nothing kept."""
    status, body, headers = asked(page, "GET", "/")
    assert status == 200
    assert b"<script>" not in body and b"style=" not in body and b" on" + b"click" not in body
    policy = headers["content-security-policy"]
    assert "default-src 'none'" in policy and "script-src 'self'" in policy and "unsafe" not in policy
    assert headers["referrer-policy"] == "no-referrer" and headers["cache-control"] == "no-store"


def test_nothing_is_answered_without_the_token(page: Open) -> None:
    """Neither page nor state, nor a door that wasn't opened by --share."""
    for path in ("/", "/state", "/" + "x" * 32 + "/state", "/door", "//", "/%00"):
        assert asked(page, "GET", path, token=False)[0] == 404


def test_a_wrong_host_is_refused(page: Open) -> None:
    """A name that was made to point here finds nothing."""
    for host in ("evil.example", f"evil.example:{page.host.partition(':')[2]}", "127.0.0.1", ""):
        assert asked(page, "GET", "/state", Host=host)[0] == 421


def test_a_foreign_page_is_refused(page: Open) -> None:
    """By its origin, or by what the browser says of where it comes from; a change needs one of the two."""
    wish = {"top.diameter": 777}
    assert asked(page, "GET", "/state", Origin="http://evil.example")[0] == 403
    assert asked(page, "GET", "/state", Sec_Fetch_Site="cross-site")[0] == 403
    for origin in ("http://evil.example", "null", f"https://{page.host}"):
        assert change(page, wish, Origin=origin) == 403
    line = HTTPConnection(*page.host.split(":"), timeout=10)  # type: ignore[arg-type]
    line.request("POST", f"/{page.token}/change", b"{}", {"Content-Type": "application/json"})
    assert line.getresponse().status == 403
    assert change(page, wish, Content_Type="text/plain") == 415


@pytest.mark.parametrize(
    "path",
    ["/page/../server.py", "/page/%2e%2e/server.py", "/page/..%2fserver.py", "/packet/../terrace.toml",
     "/packet/%2e%2e/etc/passwd", "/packet/x/../../../../etc/passwd", "/archive/..%2f..%2fetc.zip",
     "/page/index.html", "/packet/.git/config"],
)  # fmt: skip
def test_no_path_leads_out(page: Open, path: str) -> None:
    """Neither out of the page's own files nor out of the profile's folder."""
    status, body, _ = asked(page, "GET", path)
    assert status in (404, 422)
    assert b"root:" not in body and b"import" not in body


def test_only_files_of_a_packet_are_served(page: Open, tmp_path: Path) -> None:
    """Not by a link out of it either, and its page runs its own script alone."""
    folder = page.path.parent / "mine"
    folder.mkdir()
    (folder / "packet.json").write_text("{}")
    (folder / "index.html").write_text("<script>1</script>")
    (folder / "out").symlink_to("/etc/passwd")
    assert asked(page, "GET", "/packet/mine/out")[0] == 422
    status, _, headers = asked(page, "GET", "/packet/mine/index.html")
    assert status == 200 and "sandbox" in headers["content-security-policy"]
    assert "script-src 'sha256-a4ayc/80/OGda4BO/1o/V0etpOqiLx1JwB5S3beHW0s='" in headers["content-security-policy"]
    for file in folder.iterdir():
        file.unlink()
    folder.rmdir()


def test_bodies_are_limited(page: Open) -> None:
    """Told beforehand or not."""
    assert asked(page, "POST", "/change", b"x" * 1_300_000)[0] == 413
    host, _, port = page.host.partition(":")
    with socket.create_connection((host, int(port)), 10) as line:
        head = (
            f"POST /{page.token}/change HTTP/1.1\r\nHost: {page.host}\r\nOrigin: http://{page.host}\r\n"
            "Content-Type: application/json\r\nTransfer-Encoding: chunked\r\n\r\n"
        )
        line.sendall(head.encode() + (b"10000\r\n" + b"x" * 0x10000 + b"\r\n") * 20)
        assert b" 413 " in line.recv(200)


@pytest.mark.parametrize("body", [b"", b"{", b"[]", b"[" * 50_000, b'{"changes": 3}', b'{"changes": {}}', b"\xff"])
def test_what_is_no_change_is_refused(page: Open, body: bytes) -> None:
    """As JSON, as an object, as changes."""
    assert asked(page, "POST", "/change", body)[0] in (400, 422)


@pytest.mark.parametrize(
    "changes",
    [{"top.diameter": "1/0"}, {"top.diameter": 1e300}, {"nothing.there": 3}, {"a]\n[top": 3}, {"stock[99].width": 3},
     {"stock": "x"}, {"top": 3}, {"title": "x\u0000"}, {"top.diameter": {"a": 1}}, {"": 1}, {"format": 2},
     {"shop": "../../../etc/passwd"}, {"shop": "/etc/passwd"}, {"shop.file": "../x.toml"}, {"stock[1].faults": "x"},
     {"stock[1].fault_areas": [[1, 2]]}],
)  # fmt: skip
def test_values_that_are_refused_leave_the_file(page: Open, changes: object) -> None:
    """A refusal with its words, never a mistake of ours."""
    assert change(page, changes) in (200, 422)


def test_an_old_revision_is_a_conflict(page: Open) -> None:
    """And so is none at all."""
    assert change(page, {"top.diameter": 801}, revision=0) == 409
    assert asked(page, "POST", "/change", b'{"changes": {"top.diameter": 801}}')[0] == 409


def test_folders_have_plain_names(page: Open) -> None:
    """A packet goes beside the profile and nowhere else."""
    for name in ("../x", "/x", "a/b", ".hidden", "x\u0000", "..", "", 3):
        assert asked(page, "POST", "/make", json.dumps({"folder": name or " "}).encode())[0] == 422


def test_many_at_once_are_turned_away() -> None:
    """A flood is let through as far as a busy page goes, and by so many a second after."""
    bucket = Bucket(at=100.0)
    assert sum(bucket.lets(100.0) for _ in range(1000)) == AT_ONCE
    assert sum(bucket.lets(100.5) for _ in range(1000)) == EACH_SECOND / 2
    assert sum(bucket.lets(200.0) for _ in range(1000)) == AT_ONCE
