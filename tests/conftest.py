"""One folder for a whole run, in which its workers share what takes long to make."""

from __future__ import annotations

import os
import shutil
import tempfile

import pytest

SHARED = "TEMPLATEGEN_TESTS_SHARED"

OWN = pytest.StashKey[str]()


def pytest_configure(config: pytest.Config) -> None:
    """Whoever starts the run makes the folder; its workers find it in their surroundings."""
    if SHARED not in os.environ:
        config.stash[OWN] = os.environ[SHARED] = tempfile.mkdtemp(prefix="templategen-tests-")


def pytest_unconfigure(config: pytest.Config) -> None:
    """And takes it away."""
    if folder := config.stash.get(OWN, ""):
        shutil.rmtree(folder, ignore_errors=True)
        del os.environ[SHARED]
