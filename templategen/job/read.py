"""Reads a job that was filled in; every fault is told at once, with its line."""

import os
import re
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from typing import TypeVar

from templategen.catalogue import fault_of, translated, worded
from templategen.errors import Fault, ProfileError, TemplategenError
from templategen.job.planned import Planned, as_told
from templategen.packet.page.sizes import size
from templategen.table.profile.load import source_from_file, toml_values
from templategen.table.profile.locate import locate_faults
from templategen.table.profile.resolve import Resolver, described
from templategen.table.profile.suggest import did_you_mean

TIME = re.compile(r"\s*(?:(\d+(?:\.\d+)?)\s*h)?\s*(?:(\d+(?:\.\d+)?)\s*(?:min)?)?\s*")
"""Hours, minutes, or both."""

PERCENT = re.compile(r"\s*(\d+(?:\.\d+)?)\s*%?\s*")
"""What stands between the quotes of the form."""

MOST_MINUTES, MOST_BOARDS = 100_000.0, 100_000

MOST_OFF = 10.0
"""A length further off than this is misread, mm."""

WETTEST = 60.0
"""Nobody builds with wood wetter than this, %."""

KEYS = ("format", "folder", "packet", "made", "moisture", "keep", "minutes", "boards", "offcuts", "lengths")

V = TypeVar("V")


@dataclass(frozen=True, slots=True)
class JobDone:
    """What was done: minutes by what, boards used by name, names of offcuts kept, lengths measured by part, mm, and
    the wood's moisture in %, None where nobody measured; `made` counts the jobs done from this packet."""

    file: str
    moisture: float | None = None
    made: int = 1
    minutes: Mapping[str, float] = field(default_factory=dict)
    boards: Mapping[str, int] = field(default_factory=dict)
    offcuts: tuple[str, ...] = ()
    lengths: Mapping[str, float] = field(default_factory=dict)


def read_job(path: str | os.PathLike[str], plan: Planned) -> JobDone:
    """The job in the file at `path`, of the packet that `plan` tells.

    Raises:
        ProfileError: the file can't be read, is another packet's, or holds what can't be.
    """
    source = source_from_file(path)
    reader = _Reader(toml_values(source), plan)
    job = reader.read(source.file)
    if reader.faults:
        raise ProfileError(locate_faults(source.text, source.file, reader.faults))
    return job


class _Reader:
    """Reads on past what is wrong."""

    def __init__(self, written: Mapping[str, object], plan: Planned) -> None:
        self.written, self.plan = written, plan
        self.faults: list[Fault] = []
        self._resolver = Resolver({}, lambda _: plan.profile.units)

    def read(self, file: str) -> JobDone:
        plan, written = self.plan, self.written
        self.faults += (
            Fault(name, translated("is not known"), did_you_mean(name, KEYS)) for name in written if name not in KEYS
        )
        if written.get("format") != 1:
            self.faults.append(fault_of("format", "is missing or another", "write format = 1"))
        if written.get("packet") != plan.seal:
            remedy = translated("name the packet that it was written for, or write a new form")
            self.faults.append(Fault("packet", translated("is another packet's"), remedy))
        moisture = self._one("moisture", written.get("moisture", ""), _percent)
        return JobDone(
            file,
            moisture,
            self._one("made", written.get("made", 1), _count) or 1,
            self._minutes(),
            self._each("boards", plan.boards, _count),
            tuple(self._kept()),
            self._near(self._each("lengths", plan.lengths, self._length)),
        )

    def _minutes(self) -> dict[str, float]:
        """Minutes by what is done, as its names are told or as they are in English."""
        names = {**{does: does for does in self.plan.minutes}, **as_told(self.plan.minutes)}
        return {names[name]: spent for name, spent in self._each("minutes", names, minutes_of).items()}

    def _kept(self) -> Iterator[str]:
        """Offcuts for the rack: those that are told so, and long ones of which nothing is told."""
        told = self._each("offcuts", self.plan.offcuts, _yes)
        least = self._one("keep", self.written.get("keep", ""), self._length)
        for name, entry in self.plan.offcuts.items():
            if told.get(name, least is not None and self._length(entry["length"]) >= least):
                yield name

    def _near(self, measured: Mapping[str, float]) -> Mapping[str, float]:
        """Lengths, of which none may be another part's."""
        for code, length in measured.items():
            drawn, units = self.plan.lengths[code], self.plan.profile.units
            if abs(length - drawn) > MOST_OFF:
                found = worded("{found}, and {drawn} is drawn", found=size(length, units), drawn=size(drawn, units))
                self.faults.append(Fault(f"lengths.{code}", found, translated("measure again, from end to end")))
        return measured

    def _each(self, section: str, known: Iterable[str], meant: Callable[[object], V]) -> dict[str, V]:
        """What a section says of what is known; what is left empty isn't said."""
        body, names = self.written.get(section, {}), list(known)
        if not isinstance(body, dict):
            self.faults.append(
                fault_of(
                    section,
                    "{raw} stands here",
                    "write [{section}] on its own line",
                    raw=described(body),
                    section=section,
                )
            )
            return {}
        read: dict[str, V] = {}
        for name, raw in body.items():
            if name not in names:
                self.faults.append(
                    Fault(f"{section}.{name}", translated("is not of this packet"), did_you_mean(name, names))
                )
            elif (value := self._one(f"{section}.{name}", raw, meant)) is not None:
                read[name] = value
        return read

    def _one(self, where: str, raw: object, meant: Callable[[object], V]) -> V | None:
        if isinstance(raw, str) and not raw.strip():
            return None
        try:
            return meant(raw)
        except ValueError as trouble:
            remedy = (
                str(trouble)
                if not isinstance(trouble, TemplategenError)
                else translated("write a length, such as 351.2")
            )
            self.faults.append(Fault(where, worded("{raw} stands here", raw=described(raw)), remedy))
            return None

    def _length(self, raw: object) -> float:
        found = float(self._resolver.read("", raw, "length").amount)
        if not 0 < found < 100_000:
            raise ValueError(translated("write the length that you measured"))
        return found


def minutes_of(raw: object) -> float:
    """Minutes, from a number or from "1 h 35 min".

    Raises:
        ValueError: neither, or more than a job takes.
    """
    wanted = translated('write minutes, such as 95 or "1 h 35 min"')
    if isinstance(raw, str):
        found = TIME.fullmatch(raw)
        if found is None or not any(found.groups()):
            raise ValueError(wanted)
        raw = 60 * float(found[1] or 0) + float(found[2] or 0)
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not 0 < raw <= MOST_MINUTES:
        raise ValueError(wanted)
    return float(raw)


def _count(raw: object) -> int:
    if isinstance(raw, bool) or not isinstance(raw, int) or not 0 <= raw <= MOST_BOARDS:
        raise ValueError(translated("write how many, a whole number"))
    return raw


def _yes(raw: object) -> bool:
    if not isinstance(raw, bool):
        raise ValueError(translated("write true or false"))
    return raw


def _percent(raw: object) -> float:
    if isinstance(raw, str) and (found := PERCENT.fullmatch(raw)):
        raw = float(found[1])
    if isinstance(raw, bool) or not isinstance(raw, int | float) or not 0 < raw <= WETTEST:
        raise ValueError(worded("write the moisture in %, up to {wettest}", wettest=f"{WETTEST:g}"))
    return float(raw)
