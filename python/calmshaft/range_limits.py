"""The ends of written ranges against the limits of their keys: restitution ends at 1, an inertia above zero.

The limits themselves stand in the compiled check() and nowhere else: an end is put into the line in the value's place.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace

from calmshaft import units
from calmshaft.faults import Fault
from calmshaft.quantity import Quantity
from calmshaft.schema_paths import kind_at

Check = Callable[[Mapping[str, float]], list[Fault]]  # values in the place of others, by path -> faults of the line
STEPS = 60  # halvings between value and end: what a double can tell apart
DIGITS = 9  # a limit is a short number; what halving finds lies next to it


def within_limits(
    ranged: Mapping[str, Quantity], stated: Callable[[str], bool], check: Check
) -> tuple[dict[str, Quantity], list[Fault]]:  # fmt: skip
    """Values with a range, each end no further out than its key goes, and what is to be said of it.

    An end beyond is cut where the key ends; stated: whether a path states its ends one by one, whose writer is warned
    of that. An end at or below zero, of a value that must be more than zero, can be cut nowhere: that is an error. Each
    end is looked at with all other values as they stand.
    """
    held, faults = dict(ranged), []
    for side in ("low", "high"):
        ends = {path: getattr(one, side) for path, one in ranged.items()}
        if not check(ends):  # mostly; then none needs to be looked at by itself
            continue
        for path, end in ends.items():
            found = _at(path, end, check)
            if found is None:
                continue
            limit = _limit(path, held[path].value, end, check)
            if limit is not None:
                one = held[path]
                held[path] = replace(one, low=limit) if side == "low" else replace(one, high=limit)
            if limit is None or stated(path):
                faults.append(_fault(path, held[path], side, end, limit, found))
    return held, faults


def _at(path: str, end: float, check: Check) -> Fault | None:
    """What is wrong with this key when it has this value."""
    return next((fault for fault in check({path: end}) if fault.path == path), None)


def _limit(path: str, value: float, end: float, check: Check) -> float | None:
    """The furthest value on the way to an end that can be; None where that is all but zero and zero cannot be."""

    def can_be(trial: float) -> bool:
        return _at(path, trial, check) is None

    if min(value, end) <= 0 <= max(value, end) and can_be(0.0):
        return 0.0
    good, bad = value, end
    for _ in range(STEPS):
        middle = (good + bad) / 2
        good, bad = (middle, bad) if can_be(middle) else (good, middle)
    short = float(f"{good:.{DIGITS}g}")
    good = short if can_be(short) else good
    return None if abs(good) <= 1e-9 * abs(value) else good


def _fault(path: str, one: Quantity, side: str, end: float, limit: float | None, found: Fault) -> Fault:
    kind = kind_at(path) or "pure"
    rule = f"the {side} end of its range, {units.show(end, kind)}, {found.rule}"
    if limit is None:
        advice = 'write a narrower range, or its two ends: low = "..." and high = "..."'
        return Fault(path, one.as_written or "", rule, advice)
    return Fault(
        path, one.as_written or "", f"{rule}: it is cut at {units.show(limit, kind)}", f"write {side} so", True
    )
