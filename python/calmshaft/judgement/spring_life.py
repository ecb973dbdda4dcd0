"""How long a plate's springs last beside a reference, over a diary of what the boat does.

The comparison is what such a sum is good for. Hours come as a band only: they differ by powers of ten with numbers
that nobody knows of a spring at hand.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from calmshaft.judgement.fatigue import SpringSteel, extremes_of, stress_cycles
from calmshaft.judgement.sources import positive, require

ROUNDING = 0.001  # [-] of the total that hours written with few digits may be off


@dataclass(frozen=True)
class Duty:
    """A condition in a diary. hours: in all [h]; stress: one period of the worst spring's shear stress (samples,)
    [Pa]; period: how long that is [s]."""

    name: str
    hours: float
    stress: np.ndarray
    period: float


@dataclass(frozen=True)
class Event:
    """What comes now and then, on top of the conditions. stress: from its beginning to its end (samples,) [Pa], then
    back to where it began; per_hour: how often [1/h]."""

    name: str
    stress: np.ndarray
    per_hour: float


@dataclass(frozen=True)
class Diary:
    """Conditions and how long each is run; their hours must add up to total_hours [h] within 0.1 %.

    events: such as shifts and starts. Raises LineError with every fault, among them hours that do not add up.
    """

    duties: Sequence[Duty]
    total_hours: float
    events: Sequence[Event] = ()

    def __post_init__(self) -> None:
        names = [duty.name for duty in self.duties]
        twice = sorted({name for name in names if names.count(name) > 1})
        listed = sum(duty.hours for duty in self.duties)
        off = listed - self.total_hours
        many = "too many" if off > 0 else "missing"
        one_each = "give every condition once, with all its hours"
        require(
            positive("total_hours", self.total_hours, "h", "the hours that the diary covers"),
            (not twice, "duties", ", ".join(twice), "named more than once", one_each),
            *(
                check
                for duty in self.duties
                for check in (
                    (
                        0 <= duty.hours < math.inf,
                        f"hours of {duty.name}",
                        duty.hours,
                        "must not be negative",
                        "write 0",
                    ),
                    positive(f"period of {duty.name}", duty.period, "s", "how long the stress history lasts"),
                )
            ),
            (
                abs(off) <= ROUNDING * abs(self.total_hours),
                "total_hours",
                f"{self.total_hours:g} h",
                f"the conditions add up to {listed:g} h: {abs(off):g} h are {many}",
                "make the hours add up, with a line for the time at rest if need be",
            ),
        )

    def damage_by_duty(self, steel: SpringSteel) -> dict[str, float]:
        """Share of a life that each condition, and each kind of event, uses up over the diary [-]."""
        times = [(duty.name, duty.stress, duty.hours * 3600 / duty.period) for duty in self.duties]
        times += [(event.name, event.stress, event.per_hour * self.total_hours) for event in self.events]
        return {name: steel.damage(stress_cycles(stress)) * often if often else 0.0 for name, stress, often in times}

    def hours_to_failure(self, steel: SpringSteel) -> float:
        """total_hours over the damage of the diary [h]; infinite where nothing swings."""
        total = sum(self.damage_by_duty(steel).values())
        return self.total_hours / total if total > 0 else math.inf


@dataclass(frozen=True)
class SpringLife:
    """Life over that of a reference [-], with its low and high; hours_low and hours_high: an order of magnitude [h]."""

    relative: float
    low: float
    high: float
    hours_low: float
    hours_high: float
    worst: str

    def __str__(self) -> str:
        if math.isnan(self.relative):
            return (
                "the lives cannot be compared: in one of them nothing swings, or a spring is loaded beyond its strength"
            )
        return (
            f"{self.relative:.2g} times the reference's life ({self.low:.2g} to {self.high:.2g}), most of it used up "
            f"by {self.worst}; in hours an order of magnitude only: {self.hours_low:.0e} to {self.hours_high:.0e} h"
        )


def spring_life(diary: Diary, steel: SpringSteel, reference: Diary, reference_steel: SpringSteel) -> SpringLife:
    """Life over a reference's, each unknown of the wire (amplitude, slope, knee, failure sum) taken alike for both."""
    pairs = [(steel, reference_steel), *zip(extremes_of(steel), extremes_of(reference_steel), strict=True)]
    hours = [diary.hours_to_failure(one) for one, _ in pairs]
    ratios = [_ratio(own, reference.hours_to_failure(other)) for own, (_, other) in zip(hours, pairs, strict=True)]
    used = diary.damage_by_duty(steel)
    return SpringLife(ratios[0], min(ratios), max(ratios), min(hours), max(hours), max(used, key=used.__getitem__))


def _ratio(own: float, other: float) -> float:
    return own / other if 0 < other < math.inf and 0 < own < math.inf else math.nan
