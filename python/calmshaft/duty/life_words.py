"""The life of a plate over its duty diary as rows and sentences, for `life` and the report."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

from calmshaft.diary import DutyDiary
from calmshaft.duty.life import Lived, PlateLife
from calmshaft.misfiring import fault_words
from calmshaft.wording import number, percent

MOST_TIMES, MOST_HOURS = 1e3, 1e6  # beyond these digits say nothing more
ALIKE = 0.95  # [-] of the reference's work, and up to its inverse: no difference that wear would show
ASSUMED = "The diary is assumed (common practice, no source): write a [diary] into the line file to have your own"
TREATED = (
    "Each condition is integrated to its steady motion. A shift is one engagement ahead from neutral at idle, a start "
    "one cranking up to idle, both integrated with all cylinders firing and counted with the way back"
)
OVERFUELLED = "With * the engine would need more fuel than it has at rated torque: it runs slower than this in truth"
HEADS = ("condition", "share", "rpm", "gear", "load", "cylinders")
PLATES_LIVE = 2_500.0  # [h] in a healthy line, at the most; common practice, no source
BY_WEAR = (
    ". That is of the springs alone: plates in healthy lines live some 1,500 to 2,500 h (common practice, no source), "
    "so that something else, such as wear, ends the plate first"
)
WEAR = "Where wear follows that work the plate lasts"


def condition_rows(found: PlateLife) -> list[list[str]]:
    """A row a condition, shift and start, under a heading."""
    sides = [found.own] if found.own is found.reference else [found.own, found.reference]
    springs = ["of the springs"] if found.used else []
    rows = [[*HEADS, *("friction [W]", "reference [W]")[: len(sides)], *springs]]
    for place, one in enumerate(found.own.diary.conditions):
        friction = [_friction(side, place) for side in sides]
        load = "" if one.at.gear == "neutral" else one.at.load
        cylinders = fault_words(found.own.line, one.at.misfiring)
        rows.append([one.name, percent(one.share), number(one.at.rpm), one.at.gear, load, cylinders, *friction,
                     *_used(found, one.name)])  # fmt: skip
    empty = [""] * (4 + len(sides))
    return rows + [[name, f"{often:g} an hour", *empty, *_used(found, name)] for name, often in _often(found.own.diary)]


def _friction(side: Lived, place: int) -> str:
    duty, star = side.duties[place], "*" if side.overfuelled[place] else ""
    return f"{number(duty.friction_power)}{star}" if duty else "-"


def _used(found: PlateLife, name: str) -> list[str]:
    return [percent(found.used[name])] if found.used else []


def _often(diary: DutyDiary) -> list[tuple[str, float]]:
    each = (("shifts", diary.shifts_per_hour), ("starts", diary.starts_per_hour))
    return [(name, often) for name, often in each if often]


def sentences(found: PlateLife) -> Iterator[str]:
    """The comparison first, hours last; each a sentence without its full stop."""
    yield f"Compared with {_reference(found)}"
    yield _work(found)
    if found.springs is None:
        yield f"Springs: {found.why_not}"
    else:
        yield _springs(found)
        yield _hours(found)
    if any((*found.own.overfuelled, *found.reference.overfuelled)):
        yield OVERFUELLED
    yield TREATED + (f". {ASSUMED}" if found.own.diary.assumed else "")


def _reference(found: PlateLife) -> str:
    own, other = found.own, found.reference
    if own is other:
        return "itself: all cylinders fire in this diary; name another plate, or a misfiring, to compare with"
    if own.line == other.line:
        return "the same plate in the same diary with all cylinders firing"
    line = "" if own.line.title == other.line.title else f" of {other.line.title}"
    return f"{_title(other.line)}{line}, in the same diary"


def _title(line: Any) -> str:
    return line.document.get("plate", {}).get("title", "its plate")


def _work(found: PlateLife) -> str:
    own, other = found.own.friction_power, found.reference.friction_power
    if not math.isfinite(own + other):
        lost = (*found.own.lost, *found.reference.lost)
        return f"Work of friction: not judged, {lost[0]}" if lost else "Work of friction: not judged"
    told = f"Friction in the plate turns {number(own * 3.6)} kJ an hour into heat"
    if found.own is found.reference:
        return told
    told += f", that of the reference {number(other * 3.6)} kJ"
    if not math.isfinite(found.work) or found.work == 0:
        return told
    if ALIKE < found.work < 1 / ALIKE:
        return f"{told}: about as much. {WEAR} about as long (a direction, no digits)"
    return f"{told}: {_times(found.work)} as much. {WEAR} {_times(1 / found.work)} as long (a direction, no digits)"


def _springs(found: PlateLife) -> str:
    life = found.springs
    assert life is not None
    names = dict.fromkeys(name for name in found.weakest)
    which = " and the reference's ".join(names)
    if math.isnan(life.relative):
        return f"Springs ({which}): {life}"
    if found.own is found.reference:
        return f"Springs: {which} are used up first, most by {life.worst}"
    if 0.99 < life.low <= life.high < 1.01:
        return f"Springs ({which}): they last as long as the reference's; used up most by {life.worst}"
    ends = f"{_times(life.low)} to {_times(life.high)}"
    return (f"Springs ({which}): they last {_times(life.relative)} as long as the reference's, {ends} over what is not "
            f"known of the wire; used up most by {life.worst}")  # fmt: skip


def _hours(found: PlateLife) -> str:
    life = found.springs
    assert life is not None
    told = (f"In hours a band only, an estimate by the slope, knee and strength of new wire without pits or dents: "
            f"{_long(life.hours_low)} to {_long(life.hours_high)}")  # fmt: skip
    return told + (BY_WEAR if life.hours_low > PLATES_LIVE else "")


def _times(ratio: float) -> str:
    if ratio >= MOST_TIMES:
        return f"more than {number(MOST_TIMES)} times"
    return (
        f"less than {1 / MOST_TIMES:g} times" if ratio <= 1 / MOST_TIMES else f"{number(float(f'{ratio:.2g}'))} times"
    )


def _long(hours: float) -> str:
    return f"more than {number(MOST_HOURS)} h" if hours > MOST_HOURS else f"{number(float(f'{hours:.1g}'))} h"


def plain(found: PlateLife) -> dict[str, Any]:
    """The same in plain values, SI; hours in h."""
    life, diary = found.springs, found.own.diary
    conditions = [
        {
            "name": one.name, "share": one.share, "rpm": one.at.rpm, "gear": one.at.gear, "load": one.at.load,
            "misfiring": one.at.misfiring, "friction_power": own and own.friction_power,
            "reference_friction_power": other and other.friction_power, "used": found.used.get(one.name),
        }
        for one, own, other in zip(diary.conditions, found.own.duties, found.reference.duties, strict=True)
    ]  # fmt: skip
    return {
        "diary": {
            "assumed": diary.assumed, "conditions": conditions, "shifts_per_hour": diary.shifts_per_hour,
            "starts_per_hour": diary.starts_per_hour,
            "used_by_shifts": found.used.get("shifts"), "used_by_starts": found.used.get("starts"),
        },
        "friction_power": found.own.friction_power,
        "reference_friction_power": found.reference.friction_power,
        "work_over_reference": found.work,
        "springs": life and {
            "weakest": found.weakest[0], "weakest_of_reference": found.weakest[1], "relative": life.relative,
            "relative_low": life.low, "relative_high": life.high, "hours_low_estimate": life.hours_low,
            "hours_high_estimate": life.hours_high, "most_by": life.worst,
        },
        "not_judged": found.why_not,
    }  # fmt: skip
