"""The limits of a line file: each against what the run gives, printed with the document that the user named."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import partial

from calmshaft import units
from calmshaft.judgement.shafts import solid_shaft_stress
from calmshaft.judgement.verdicts import Judgement, against, worst
from calmshaft.line import Line
from calmshaft.quantity import Quantity
from calmshaft.runs import Run
from calmshaft.wording import number, percent


@dataclass(frozen=True, slots=True)
class Entered:
    """What one key of [limits] limits: its words, the unit it is shown in, and its value [SI] in a run, NaN if none."""

    subject: str
    meaning: str
    kind: str
    unit: str
    value: Callable[[Run], float]


def _measure(name: str, run: Run) -> float:
    return worst(run, name, "highest_cycle")


def _mean(name: str, run: Run) -> float:
    """Its size: astern and coasting it is negative."""
    return abs(run.measures[name])


def _half(name: str, run: Run) -> float:
    return 0.5 * worst(run, name, "highest_cycle")


def _size(name: str, run: Run) -> float:
    """The greater of both directions."""
    return max(worst(run, f"{name}_max", "highest_cycle"), -worst(run, f"{name}_min", "lowest_cycle"))


def _shaft_torque(run: Run) -> float:
    from calmshaft import signals  # loads no earlier than needed

    names = [] if run.signals is None else [str(name) for name in run.signals["coupling"].values]
    found = [float(signals.orders(run, "torque", name)["vibratory"]) for name in names if name.startswith("shaft")]
    return max(found, default=math.nan)


def _shaft_stress(run: Run) -> float:
    diameter = run.line.quantities.get("shaft.diameter")
    return solid_shaft_stress(_shaft_torque(run), diameter.value) if diameter else math.nan


_VIBRATORY = "half range of the synthesis of orders 0.5 to 12"

# fmt: off
ENTERED = {
    "gearbox_vibratory_torque":
        Entered("gearbox vibratory torque", f"in the loaded mesh at its input side, {_VIBRATORY}", "torque", "N*m",
                partial(_measure, "mesh_torque_vibratory")),
    "gearbox_greatest_torque":
        Entered("gearbox greatest torque", "in the loaded mesh at its input side, either direction", "torque", "N*m",
                partial(_size, "mesh_torque")),
    "unloaded_pair_alternating_torque":
        Entered("unloaded pair alternating torque", "half range, the largest of all unloaded pairs", "torque", "N*m",
                partial(_half, "unloaded_mesh_torque_ripple")),
    "plate_mean_torque":
        Entered("plate mean torque", "over crank angle through the plate (DIN 740-2: nominal torque T_KN)", "torque",
                "N*m", partial(_mean, "plate_torque_mean")),
    "plate_alternating_torque":
        Entered("plate alternating torque", "half range through the plate (DIN 740-2: T_KW, there at 10 Hz)", "torque",
                "N*m", partial(_half, "plate_torque_ripple")),
    "plate_greatest_torque":
        Entered("plate greatest torque", "through the plate, either direction (DIN 740-2: T_Kmax)", "torque", "N*m",
                partial(_size, "plate_torque")),
    "plate_twist":
        Entered("plate twist", "from the middle of its free play, either direction", "angle", "deg",
                partial(_size, "plate_twist")),
    "plate_heat":
        Entered("plate heat", "by friction, damping and stops together (DIN 740-2: P_KW)", "power", "W",
                partial(_measure, "plate_heat_power")),
    "shaft_vibratory_torque":
        Entered("shaft vibratory torque", f"in the propeller shaft, {_VIBRATORY}", "torque", "N*m", _shaft_torque),
    "shaft_vibratory_stress":
        Entered("shaft vibratory stress", f"at the surface of the plain solid shaft, {_VIBRATORY}", "stress", "MPa",
                _shaft_stress),
    "cyclic_irregularity":
        Entered("cyclic irregularity", "greatest less least flywheel speed over its mean", "pure", "",
                partial(_measure, "cyclic_irregularity")),
}
# fmt: on


def judge_entered(line: Line, run: Run) -> tuple[Judgement, ...]:
    """Every limit that the line file holds, in the order of ENTERED; none where it holds none."""
    return tuple(_judged(ENTERED[key], line.limits[key], run) for key in ENTERED if key in line.limits)


def _judged(one: Entered, limit: Quantity, run: Run) -> Judgement:
    document, unit = limit.document or "", one.unit.replace("*", " ")
    neutral = run.at.gear == "neutral"
    value, allowed = (units.express(amount, one.unit, one.kind) for amount in (one.value(run), limit.value))
    if not math.isfinite(value):
        why = f"{'in neutral' if neutral else 'in this run'} there is none to hold against it ({document})"
        return Judgement(one.subject, "not judged", why, unit=unit, matters=not neutral, document=document)
    word = against(value, allowed)
    left = f"{percent(1 - value / allowed)} left" if value < allowed else f"{percent(value / allowed - 1)} over"
    numbers = f"{number(value)} {unit}".rstrip() + f" beside a limit of {number(allowed)} {unit}".rstrip()
    return Judgement(one.subject, word, f"{numbers}, {left} ({document})", value, allowed, unit, document=document)


def limit_rows(line: Line) -> list[list[str]]:
    """Rows under a heading: the entered limits as the line file means them."""
    rows = [["limit", "value", "document", "of what"]]
    for key, limit in line.limits.items():
        one = ENTERED[key]
        shown = f"{number(units.express(limit.value, one.unit, one.kind))} {one.unit.replace('*', ' ')}".rstrip()
        rows.append([one.subject, shown, limit.document or "", one.meaning])
    return rows
