"""How long a plate lives beside another one, over the duty diary: fatigue of its springs, and work of its friction.

Each condition is integrated to its steady state, shifts and starts as manoeuvres; stress -> rainflow -> Goodman through
Zimmerli's points -> Miner. Wear has no such law here: the friction's work is told, and its direction alone counts.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from typing import Any

import numpy as np

from calmshaft.condition import HEALTHY, Condition, Misfiring
from calmshaft.diary import DutyDiary, diary_of
from calmshaft.duty.plate import PlateDuty, plate_duty
from calmshaft.duty.springs import NO_MATERIAL, NOT_ENTERED, spring_stress, steels
from calmshaft.duty.stages import alone
from calmshaft.histories import History, simulate
from calmshaft.judgement.fatigue import SpringSteel
from calmshaft.judgement.spring_life import Diary, Duty, Event, SpringLife, spring_life
from calmshaft.line import Line
from calmshaft.manoeuvres import Engage, Manoeuvre, Start
from calmshaft.runs import Run, steady
from calmshaft.workshop.plate_twist import SpringGroup

HOURS = 100.0  # [h] of the diary: shares in per cent are hours
SHIFT, START = Engage(at=0.1, duration=2.0), Start(duration=2.5)  # till their swings have died down
UNSOLVED = ("unfinished", "failed")
Asked = Condition | Manoeuvre
Steels = tuple[SpringSteel, SpringSteel]


@dataclass(frozen=True)
class Lived:
    """A plate over a diary. duties: of each condition, None where it has no steady answer, with the reason in `lost`.

    overfuelled: of each condition, whether it asks for more fuel than the engine has at rated torque.
    springs: stresses of each group of springs over the diary, with its wire unpeened and peened (None: not known).
    """

    line: Line
    diary: DutyDiary
    duties: tuple[PlateDuty | None, ...]
    lost: tuple[str, ...]
    overfuelled: tuple[bool, ...]
    springs: tuple[tuple[SpringGroup, Diary, Steels | None], ...] = field(repr=False)

    @property
    def friction_power(self) -> float:
        """Mean over the diary [W]; NaN where a condition has no answer. Shifts and starts are left out."""
        return self._mean(lambda one: one.friction_power)

    @property
    def heat_power(self) -> float:
        """The same of friction, damping and stops."""
        return self._mean(lambda one: one.heat_power)

    def _mean(self, power: Callable[[PlateDuty], float]) -> float:
        pairs = zip(self.diary.conditions, self.duties, strict=True)
        return sum(one.share * (power(duty) if duty else math.nan) for one, duty in pairs)

    @property
    def why_no_springs(self) -> str:
        """Why no life of its springs can be told; empty where one can."""
        if self.lost:
            return f"not judged: {self.lost[0]}"
        if not self.springs:
            return NOT_ENTERED
        return "" if all(pair for *_, pair in self.springs) else NO_MATERIAL

    def weakest(self) -> tuple[SpringGroup, Diary, Steels]:
        """The springs that are used up first, as unpeened."""
        known = [(group, diary, pair) for group, diary, pair in self.springs if pair]
        return max(known, key=lambda one: sum(one[1].damage_by_duty(one[2][0]).values()))


@dataclass(frozen=True)
class PlateLife:
    """A plate beside a reference over the diary.

    springs: of the weakest springs of both, None with the reason in why_not. weakest: their names. used: condition,
    "shifts", "starts" -> share of what is used up of the weakest springs [-]. work: friction over the reference's [-].
    """

    own: Lived
    reference: Lived
    springs: SpringLife | None
    weakest: tuple[str, str]
    used: Mapping[str, float]
    why_not: str

    @property
    def work(self) -> float:
        """Work of friction over that of the reference [-]; NaN where there is none."""
        return self.own.friction_power / (self.reference.friction_power or math.nan)


def plate_life(
    line: Line, reference: Line | Mapping[str, Any] | str | Path | None = None, *, misfiring: Misfiring | None = None,
    threads: int = 0,
) -> PlateLife:  # fmt: skip
    """Life of a line's plate over the diary in its [diary], else an assumed one, beside a reference.

    reference: another line; a plate (file, or dict of its [plate]) for this line; None: this plate with all cylinders
    firing. misfiring: in place of what the diary says, in every condition. Springs need [[plate.springs]]. Raises
    LineError for a line without plate and where a condition does not fit.
    """
    diary = diary_of(line)
    diary = diary if misfiring is None else diary.with_misfiring(misfiring)
    if reference is None:
        other, beside = line, diary.with_misfiring(HEALTHY)
    else:
        other, beside = reference if isinstance(reference, Line) else line.with_plate(reference), diary
    known: dict[tuple[Line, Asked], Run | History] = {}
    own = _lived(line, diary, known, threads)
    there = own if (other, beside) == (line, diary) else _lived(other, beside, known, threads)
    why = own.why_no_springs or there.why_no_springs.replace("not judged:", "not judged, for the reference:", 1)
    if why:
        return PlateLife(own, there, None, ("", ""), {}, why)
    return _beside(own, there)


def _beside(own: Lived, there: Lived) -> PlateLife:
    """Both wires taken alike, unpeened or peened, over all that is not known of them."""
    (group, diary, pair), (other, beside, other_pair) = own.weakest(), there.weakest()
    plain, peened = (spring_life(diary, steel, beside, its) for steel, its in zip(pair, other_pair, strict=True))
    found = SpringLife(
        plain.relative, min(plain.low, peened.low), max(plain.high, peened.high),
        min(plain.hours_low, peened.hours_low), max(plain.hours_high, peened.hours_high), plain.worst,
    )  # fmt: skip
    damage = diary.damage_by_duty(pair[0])
    total = sum(damage.values())
    used = {name: each / total for name, each in damage.items()} if 0 < total < math.inf else {}
    return PlateLife(own, there, found, (group.name, other.name), used, "")


def _lived(line: Line, diary: DutyDiary, known: dict[tuple[Line, Asked], Run | History], threads: int) -> Lived:
    """known: what was worked out before, and what is worked out here."""
    events = _events(diary)
    wanted: list[Asked] = [*(one.at for one in diary.conditions), *(manoeuvre for _, manoeuvre, _ in events)]
    fresh = [one for one in dict.fromkeys(wanted) if (line, one) not in known]
    with ThreadPoolExecutor(threads or None) as pool:
        known.update(zip([(line, one) for one in fresh], pool.map(partial(_answer, line), fresh), strict=True))
    found = [known[line, one] for one in wanted]
    runs, histories = found[: len(diary.conditions)], found[len(diary.conditions) :]
    names = [*(one.name for one in diary.conditions), *(name for name, *_ in events)]
    lost = tuple(f"{name}: {one.status}, {one.reason}" for name, one in zip(names, found, strict=True)
                 if one.signals is None or one.status in UNSOLVED)  # fmt: skip
    duties = tuple(plate_duty(run) if run.signals is not None else None for run in runs)
    overfuelled = tuple(run.overfuelled for run in runs)
    twists = [(name, history.signals["twist"].sel(coupling="plate").values, often)
              for (name, _, often), history in zip(events, histories, strict=True)]  # fmt: skip
    return Lived(line, diary, duties, lost, overfuelled, () if lost else _springs(line, diary, duties, twists))


def _answer(line: Line, one: Asked) -> Run | History:
    return steady(line, one) if isinstance(one, Condition) else simulate(line, one)


def _events(diary: DutyDiary) -> list[tuple[str, Manoeuvre, float]]:
    """Those that happen, by name, with how often in an hour."""
    every = [("shifts", SHIFT, diary.shifts_per_hour), ("starts", START, diary.starts_per_hour)]
    return [one for one in every if one[2] > 0]


def _springs(
    line: Line, diary: DutyDiary, duties: Sequence[PlateDuty | None], twists: Sequence[tuple[str, np.ndarray, float]]
) -> tuple[tuple[SpringGroup, Diary, Steels | None], ...]:
    springs = alone(line).springs
    groups = [group for group in springs.groups if group.working] if springs else []
    found = []
    for place, group in enumerate(groups):
        felt = [duty.springs[place] for duty in duties if duty]
        conditions = [
            Duty(one.name, HOURS * one.share, duty.stress, duty.duration)
            for one, duty in zip(diary.conditions, felt, strict=True)
        ]
        total = sum(one.hours for one in conditions)
        events = [Event(name, spring_stress(springs, group, twist), often) for name, twist, often in twists]
        found.append((group, Diary(conditions, total, events), steels(group)))
    return tuple(found)
