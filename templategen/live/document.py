"""The maker's own file: read, changed with its comments kept, written whole, with every step kept to go back by."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from templategen.catalogue import fault_of
from templategen.errors import ProfileError, TemplategenError
from templategen.output.folder import write_file
from templategen.table.profile.kept import edited
from templategen.table.profile.load import LARGEST_BYTES
from templategen.table.profile.model import Profile
from templategen.table.profile.read import profile_in_place
from templategen.table.profile.workshop import FILE, own_part
from templategen.units import printable

BESIDE = "name one that lies beside the table, or write it in an editor"

NAMES = ("shop", f"shop.{FILE}")
"""Where a profile names its workshop file."""


class ConflictError(TemplategenError, RuntimeError):
    """The file has been changed meanwhile, in another window or by an editor."""


@dataclass(frozen=True, slots=True)
class Step:
    """One change of the text: at a place one piece stood and now another does; `told` says what was changed."""

    at: int
    was: str
    now: str
    told: str

    def forth(self, text: str) -> str:
        """The text after the change."""
        return text[: self.at] + self.now + text[self.at + len(self.was) :]

    def back(self, text: str) -> str:
        """The text before it."""
        return text[: self.at] + self.was + text[self.at + len(self.now) :]


def step_between(old: str, new: str, told: str) -> Step:
    """What changed from one text to the other, without what both begin and end with."""
    at = _alike(old, new)
    end = _alike(old[at:][::-1], new[at:][::-1])
    return Step(at, old[at : len(old) - end], new[at : len(new) - end], told)


def _alike(one: str, other: str) -> int:
    """How many letters two texts begin with alike."""
    pairs = zip(one, other, strict=False)
    return next((at for at, (a, b) in enumerate(pairs) if a != b), min(len(one), len(other)))


class Document:
    """A profile's file and its history. `revision` grows with every change, wherever that was made."""

    def __init__(self, path: Path, shop: str | None = None) -> None:
        self.path, self.shop = path, shop
        self.text = _read(path)
        self.revision = 1
        self.steps: list[Step] = []
        self.place = 0
        self._known: Profile | None = None
        self._stamp = _stamp(path)

    @property
    def name(self) -> str:
        """The profile's name."""
        return self.path.stem

    @property
    def profile(self) -> Profile:
        """What the text says.

        Raises:
            ProfileError: it can't be read.
        """
        if self._known is None or self._known.text != self.text:
            self._known = self.read(self.text)
        return self._known

    def read(self, text: str) -> Profile:
        """What another text in its place would say; raises as `profile` does."""
        return profile_in_place(text, str(self.path), self.shop)

    def beside(self, text: str) -> Profile:
        """What a text from elsewhere would say in its place; raises as `profile` does, and where it names a workshop
        file that lies in another folder and isn't the one named here."""
        _in_this_folder(_named(text), _named(self.text))
        return self.read(text)

    def reread(self) -> bool:
        """Takes over what an editor wrote; whether that was anything.

        Raises:
            ProfileError: the file has gone, or isn't text.
        """
        stamp = _stamp(self.path)
        if stamp == self._stamp:
            return False
        text = _read(self.path)
        self._stamp = stamp
        if text == self.text:
            return False
        self._take(text, "in an editor")
        return True

    def change(self, changes: Mapping[str, Any], revision: int, told: str) -> Profile:
        """Writes values into the file, as the changed profile is read.

        Raises:
            ConflictError: the file is no longer the one that the change was made to.
            ProfileError: a value is refused; nothing is written.
            OutputError: the file can't be written.
        """
        self._agree(revision)
        for name in NAMES:
            _in_this_folder(changes.get(name), _named(self.text))
        text = edited(self.text, self._with_room(changes))
        self._known = self.read(text)
        self._write(text)
        self._take(text, told)
        return self._known

    def _with_room(self, changes: Mapping[str, Any]) -> Mapping[str, Any]:
        """Where `shop = "FILE"` leaves no room for the shop's keys the name goes into `[shop]` with them."""
        named = self.profile.written.get("shop")
        if not isinstance(named, str) or not any(key.startswith("shop.") for key in changes):
            return changes
        return {"shop": None, f"shop.{FILE}": named, **changes}

    def become(self, text: str, revision: int, told: str) -> None:
        """Writes another text whole, such as a variant's; raises what `change` does."""
        self._agree(revision)
        self.read(text)
        self._write(text)
        self._take(text, told)

    def undo(self, revision: int) -> str:
        """Takes the last step back; what it was, or nothing. Raises what `change` does."""
        self._agree(revision)
        if not self.place:
            return ""
        step = self.steps[self.place - 1]
        self._move(step.back(self.text), -1)
        return step.told

    def redo(self, revision: int) -> str:
        """Does the next step again; what it was, or nothing. Raises what `change` does."""
        self._agree(revision)
        if self.place == len(self.steps):
            return ""
        step = self.steps[self.place]
        self._move(step.forth(self.text), 1)
        return step.told

    def _move(self, text: str, by: int) -> None:
        self._write(text)
        self.text = text
        self.place += by
        self.revision += 1

    def _agree(self, revision: int) -> None:
        self.reread()
        if revision != self.revision:
            raise ConflictError(fault_of("", "the file was changed meanwhile, in another window or by an editor",
                                    "look at what stands there now, then change it again"))  # fmt: skip

    def _write(self, text: str) -> None:
        write_file(self.path, text.encode(), replace=True)
        self._stamp = _stamp(self.path)

    def _take(self, text: str, told: str) -> None:
        del self.steps[self.place :]
        self.steps.append(step_between(self.text, text, told))
        self.place += 1
        self.text = text
        self.revision += 1


def _named(text: str) -> object:
    """The workshop file that a profile names."""
    try:
        return own_part(tomllib.loads(text))[1]
    except tomllib.TOMLDecodeError:
        return None


def _in_this_folder(named: object, known: object) -> None:
    if isinstance(named, str) and named != known and Path(named).name != named:
        raise ProfileError(fault_of("shop", '"{name}" leads out of this folder', BESIDE, name=printable(named)[:60]))


def _stamp(path: Path) -> tuple[int, int, int]:
    try:
        found = path.stat()
    except OSError:
        return (0, 0, 0)
    return found.st_mtime_ns, found.st_size, found.st_ino


def _read(path: Path) -> str:
    try:
        with path.open("rb") as file:
            data = file.read(LARGEST_BYTES + 1)
        if len(data) > LARGEST_BYTES:
            fault = fault_of("", "the file is larger than 1 MB", "a profile is a page of text")
            raise ProfileError(fault.at(str(path), 0))
        return data.decode("utf-8")
    except UnicodeDecodeError:
        fault = fault_of("", "this is not UTF-8 text", "save the file as UTF-8")
        raise ProfileError(fault.at(str(path), 0)) from None
    except OSError as problem:
        reason = (problem.strerror or "").lower()
        fault = fault_of("", "the file can't be read ({reason})", "put it back, or open another", reason=reason)
        raise ProfileError(fault.at(str(path), 0)) from None
