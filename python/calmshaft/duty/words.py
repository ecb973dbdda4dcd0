"""What a plate feels, as rows and sentences for `run` and the report."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import asdict
from typing import Any

from calmshaft.duty.plate import PlateDuty
from calmshaft.duty.springs import NOT_ENTERED, SpringDuty
from calmshaft.wording import listed, number, percent

SPRING_HEADS = [
    "springs", "count", "stress [MPa]", "worst cycle [MPa]", "greatest, of tensile", "beside infinite life (estimate)",
]  # fmt: skip


def sentences(duty: PlateDuty) -> Iterator[str]:
    """Twist, stages, stop, torque, heat and springs in words; each a sentence without its full stop."""
    yield f"twist {_degrees(duty.twist_min)} to {_degrees(duty.twist_max)} deg, {_travel(duty)}"
    yield "time on each stage: " + listed([f"{name} {percent(share)}" for name, share in duty.shares.items() if share])
    yield (
        f"torque: mean {number(duty.torque_mean)} N m, alternating +-{number(duty.torque_alternating)} N m "
        f"(half range), greatest {number(duty.torque_greatest)} N m; mostly at {number(duty.main_frequency)} Hz"
    )
    yield f"friction turns {number(duty.friction_power)} W into heat, with damping and stops " \
          f"{number(duty.heat_power)} W, which {duty.warming}"  # fmt: skip
    if not duty.springs:
        yield f"springs {NOT_ENTERED}"


def _travel(duty: PlateDuty) -> str:
    if math.isnan(duty.used):
        return "its stop is not known"
    hits = {side: each for side, each in duty.stop_hits.items() if each}
    if not hits:
        return f"{percent(duty.used)} of the travel to its stop, which is never hit"
    how_often = listed([f"{number(each)} times a cycle in {side}" for side, each in hits.items()])
    return f"which hits its stop {how_often}"


def spring_rows(duty: PlateDuty) -> list[list[str]]:
    """A row for each group of springs, under a heading; empty where they are not entered."""
    return [SPRING_HEADS, *map(_row, duty.springs)] if duty.springs else []


def _row(one: SpringDuty) -> list[str]:
    tensile = "material not written" if math.isnan(one.strength) else percent(one.greatest / one.strength)
    return [one.name, str(one.count), f"{_mega(one.least)} to {_mega(one.greatest)}",
            f"{_mega(one.mean)} +-{_mega(one.amplitude)}", tensile, one.words]  # fmt: skip


def _mega(stress: float) -> str:
    return number(stress / 1e6)


def _degrees(angle: float) -> str:
    return number(math.degrees(angle))


def plain(duty: PlateDuty) -> dict[str, Any]:
    """The same in plain values, SI, without the springs' histories."""
    found = {**asdict(duty), "used": duty.used, "alternating_at_ten_hertz": duty.alternating_at_ten_hertz}
    for one, spring in zip(found["springs"], duty.springs, strict=True):
        del one["stress"]
        one["words"] = spring.words
    return found
