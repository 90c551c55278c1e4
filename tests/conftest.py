"""One folder for a whole run, in which its workers share what takes long to make."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Generator
from pathlib import Path

import pytest
from hypothesis import settings

settings.register_profile("ours", deadline=None)
settings.load_profile("ours")  # tests aren't timed: a busy machine takes twenty times as long for one case

SHARED = "TEMPLATEGEN_TESTS_SHARED"
CACHE = "TEMPLATEGEN_CACHE"

ONCE = (
    "tests/page/", "tests/interop/", "tests/fit/", "tests/suit/", "tests/live/", "tests/job/",
    "tests/router/", "tests/proof/", "tests/explain/", "tests/words/", "tests/work/", "tests/shop/", "tests/paper/",
    "tests/jigs/", "tests/drawing/", "tests/checks/", "tests/kept/test_keep", "tests/nesting/test_more_is_no_worse",
    "tests/packet/test_level_sizes", "tests/packet/test_lost", "tests/packet/test_pages", "tests/packet/test_figures",
    "tests/packet/test_paper", "tests/cli/test_hostile", "tests/cli/test_exits", "tests/cli/test_refit",
    "tests/cli/test_own_files", "tests/strength/", "tests/parts/test_volume", "tests/nesting/test_bound",
    "tests/nesting/test_nest", "tests/packet/test_several", "tests/packet/test_packet",
    "tests/table/test_random_tables", "tests/table/test_dry_fit", "tests/test_readme",
)  # fmt: skip

WIDER = {"towpath-dining": "wide", "towpath-inch": "wide", "towpath-hex": "slow"}
"""Where all four tables are asked alike the test line asks the side table and leaves these to the wide tests, the
hexagon's whole packet to the studies. Of jobs and tables of chance it asks every fourth."""

LARGER = {(2, 16), (3, 12), (3, 18), (3, 24)}
"""Of the shapes, rails and segments, that tests of the table ask alike, those that are left to the wide tests."""

PACKETS = (
    "tests/packet/", "tests/page/", "tests/proof/", "tests/paper/", "tests/work/", "tests/interop/", "tests/router/",
    "tests/live/", "tests/cli/", "tests/job/",
)  # fmt: skip

MAKES = (
    "tests/kept/", "tests/cli/test_log", "tests/packet/test_same_bytes", "tests/packet/test_two_cores",
    "tests/packet/test_second_core", "tests/packet/test_lost", "tests/packet/test_pipeline",
    "tests/live/", "tests/suit/",
)  # fmt: skip
"""There it is asked how something is made, or how long it takes."""

OWN = pytest.StashKey[str]()


def pytest_configure(config: pytest.Config) -> None:
    """Whoever starts the run makes the folder; its workers find it in their surroundings."""
    os.environ["LC_ALL"] = "C.UTF-8"  # help is told in the system's language
    os.environ["TEMPLATEGEN_SHOP"] = "none"  # whoever runs them may have a workshop file of his own
    if SHARED not in os.environ:
        config.stash[OWN] = os.environ[SHARED] = tempfile.mkdtemp(prefix="templategen-tests-")
    os.environ[CACHE] = "none"  # nor is anything taken from what an earlier run made


def shelf_of_run() -> str:
    """Where tests leave what they have made for others of the same run."""
    return str(Path(os.environ[SHARED]) / "kept")


@pytest.hookimpl(wrapper=True)
def pytest_runtest_protocol(item: pytest.Item) -> Generator[None, object, object]:
    """Tests take from the run's own shelf what others have made, in this process or by a command; not those that ask
    how it is made, or that change the program."""
    from templategen.kept.keep import keeping

    makes = any(part in item.path.as_posix() for part in MAKES)
    changes = {"monkeypatch", "quickly"} & set(getattr(item, "fixturenames", ()))
    os.environ[CACHE] = shelf_of_run() if not makes and not changes else "none"
    with keeping():
        return (yield)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Marks what doesn't hang on the version of Python, so that it is asked of one alone, and the wide ones."""
    for item in items:
        path, given = item.path.as_posix(), getattr(item, "callspec", None)
        if any(part in path for part in ONCE):
            item.add_marker(pytest.mark.once)
        asked = {value for value in given.params.values() if isinstance(value, str)} if given else set()
        seed = given.params.get("seed") if given else None
        if (isinstance(seed, int) and seed % 4) or (given and given.params.get("shape") in LARGER):
            item.add_marker("wide")
        whole = any(part in path for part in PACKETS)
        for name in asked & set(WIDER):
            item.add_marker(WIDER[name] if whole else "wide")


def pytest_unconfigure(config: pytest.Config) -> None:
    """And takes it away."""
    if folder := config.stash.get(OWN, ""):
        shutil.rmtree(folder, ignore_errors=True)
        del os.environ[SHARED]
