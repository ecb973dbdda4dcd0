"""The duty diary of a line: steady conditions with their share of the hours, and how often it is shifted and started.

Where a line file has none, a usual one is assumed (common practice, no source).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from calmshaft import _core
from calmshaft.condition import HEALTHY, Condition, Misfiring

if TYPE_CHECKING:
    from calmshaft.line import Line

Fault = _core.Fault
RPM = 0.10471975511965977  # [rad/s]
ROUNDING = 0.001  # [-] that shares written with few digits may be off in all
TROLLING, CRUISE = 1.25, 0.8  # [-] times idle speed, times the speed at full throttle
# name, share [-], gear of the assumed diary; shifts and starts in an hour [1/h]
_USUAL = (
    ("idle in neutral", 0.05, "neutral"),
    ("idle ahead", 0.10, "ahead"),
    ("trolling", 0.15, "ahead"),
    ("cruise", 0.60, "ahead"),
    ("full", 0.10, "ahead"),
)
_SHIFTS, _STARTS = 4.0, 0.5
_LISTED = re.compile(r"diary\.conditions\[(\d+)\]\.(\w+)")
_NEEDED = {"name": 'write for instance "trolling"', "share": 'write for instance "15 %"',
           "rpm": "write the mean crank speed, for instance 1000"}  # fmt: skip


@dataclass(frozen=True, slots=True)
class DiaryCondition:
    """One steady condition; share: of all running hours [-]."""

    name: str
    share: float
    at: Condition


@dataclass(frozen=True, slots=True)
class DutyDiary:
    """Conditions whose shares add up to 1, shifts and starts in an hour [1/h]; assumed: not written by the user."""

    conditions: tuple[DiaryCondition, ...]
    shifts_per_hour: float
    starts_per_hour: float
    assumed: bool

    @property
    def healthy(self) -> bool:
        """Whether all cylinders fire in every condition."""
        return all(one.at.misfiring == HEALTHY for one in self.conditions)

    def with_misfiring(self, misfiring: Misfiring) -> DutyDiary:
        """The same hours with this fault in every condition. Raises LineError where it is none."""
        changed = (replace(one, at=one.at.with_(misfiring=misfiring)) for one in self.conditions)
        return replace(self, conditions=tuple(changed))


def diary_of(line: Line) -> DutyDiary:
    """The diary of a line's file, else the usual one."""
    written = line.document.get("diary")
    if not written:
        return _usual(line)
    from calmshaft.faults import validated  # the schema takes longer to load than the rest

    section = validated({"diary": written})[0].diary
    per_hour = (given.value if given else 0.0 for given in (section.shifts_per_hour, section.starts_per_hour))
    entries = tuple(
        DiaryCondition(one.name, one.share.value, _condition(one.rpm.value, one.gear, one.load, one.misfiring))
        for one in section.conditions
    )
    return DutyDiary(entries, *per_hour, assumed=False)


def _condition(speed: float, gear: str | None, load: str | None, misfiring: str | None) -> Condition:
    return Condition(round(speed / RPM, 3), gear or "ahead", misfiring or HEALTHY, load or "under way")


def _usual(line: Line) -> DutyDiary:
    from calmshaft.runs import usual_gear

    idle, rated, top = (
        line.quantities[key].value if key in line.quantities else float("inf")
        for key in ("engine.idle_rpm", "engine.rated_rpm", "propeller.full_throttle_rpm")
    )
    full = min(rated, top)
    speeds = {"trolling": TROLLING * idle, "cruise": CRUISE * full, "full": full}
    if usual_gear(line) == "neutral":
        return DutyDiary((DiaryCondition("idle in neutral", 1.0, _condition(idle, "neutral", "", "")),),
                         0.0, _STARTS, True)  # fmt: skip
    entries = (
        DiaryCondition(name, share, _condition(speeds.get(name, idle), gear, "", "")) for name, share, gear in _USUAL
    )
    return DutyDiary(tuple(entries), _SHIFTS, _STARTS, True)


def faults(given: Mapping[str, Any]) -> list[Fault]:
    """What is missing or cannot be of a [diary]. given: path -> Quantity, word or count."""
    if not any(path.startswith("diary.") for path in given):
        return []
    entries: dict[int, dict[str, Any]] = {}
    for path, value in given.items():
        if found := _LISTED.fullmatch(path):
            entries.setdefault(int(found[1]), {})[found[2]] = value
    return [*_per_hour(given), *_together(entries), *_each(entries, given.get("engine.cylinders"))]


def _per_hour(given: Mapping[str, Any]) -> Iterator[Fault]:
    for path in ("diary.shifts_per_hour", "diary.starts_per_hour"):
        if path in given and given[path].value < 0:
            yield Fault(path, f"{given[path].value:g}", "must not be negative", "write how often in an hour, or 0")


def _together(entries: Mapping[int, Mapping[str, Any]]) -> Iterator[Fault]:
    path = "diary.conditions"
    if not entries:
        yield Fault(path, "", "is missing", "write [[diary.conditions]] with name, share and rpm for each")
        return
    names = [one.get("name") for one in entries.values()]
    for name in sorted({str(name) for name in names if name and names.count(name) > 1}):
        yield Fault(path, f'"{name}"', "named more than once", "give every condition once, with all its share")
    if all("share" in one for one in entries.values()):
        total = sum(one["share"].value for one in entries.values())
        if abs(total - 1) > ROUNDING:
            off = f"{100 * abs(total - 1):.4g} % {'too much' if total > 1 else 'missing'}"
            yield Fault(path, "", f"the shares add up to {100 * total:.4g} %: {off}", "make them add up to 100 %")


def _each(entries: Mapping[int, Mapping[str, Any]], cylinders: int | None) -> Iterator[Fault]:
    for place, one in entries.items():
        path = f"diary.conditions[{place}]"
        yield from (Fault(f"{path}.{key}", "", "is missing", how) for key, how in _NEEDED.items() if key not in one)
        for key in ("load", "misfiring"):
            try:
                at = Condition(1.0, **{key: one[key]} if key in one else {})
                at.strengths(cylinders or 24)
            except _core.LineError as error:
                yield from (Fault(f"{path}.{key}", f.value, f.rule, f.advice) for f in error.faults)
