"""The questions of `new --guided`, in the order in which a builder walks along the line."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from calmshaft import units
from calmshaft.quantity import Quantity

DEGREE = math.pi / 180.0  # [rad]
FEWEST_IN_A_VEE, SURELY_A_VEE = 6, 8  # cylinders; common practice, no source
_LAYOUTS = {"v": "vee", "in line": "inline", "in-line": "inline", "straight": "inline", "row": "inline"}
NEUTRAL_ONLY = "Then only neutral can be answered."


def _always(answers: Mapping[str, Any]) -> bool:
    return True


def _none(answers: Mapping[str, Any]) -> None:
    return None


def _in_gear(answers: Mapping[str, Any]) -> bool:
    return "gearbox.ahead.ratio" in answers


def _may_be_a_vee(answers: Mapping[str, Any]) -> bool:
    return bool(answers["engine.cylinders"] >= FEWEST_IN_A_VEE)


def _is_a_vee(answers: Mapping[str, Any]) -> bool:
    return answers.get("engine.layout") == "vee"


def _usual_layout(answers: Mapping[str, Any]) -> str:
    return "vee" if answers["engine.cylinders"] >= SURELY_A_VEE else "inline"


def _usual_bank(answers: Mapping[str, Any]) -> str | None:
    """Where such vees fire evenly on common crank pins; sixes are built with several."""
    cylinders = answers["engine.cylinders"]
    return f"{720 / cylinders:g} deg" if cylinders >= SURELY_A_VEE else None


@dataclass(frozen=True)
class Question:
    """One question. estimated: keys whose estimate is shown where the answer is unknown; without: what then lacks.

    usual: what is written into the file where it is unknown. spellings: other words for an answer.
    """

    key: str
    words: str
    required: bool = False
    estimated: tuple[str, ...] = ()
    without: str = ""
    applies: Callable[[Mapping[str, Any]], bool] = _always
    usual: Callable[[Mapping[str, Any]], str | None] = _none
    spellings: Mapping[str, str] = field(default_factory=dict)


QUESTIONS = (
    Question("title", "What is the line called?"),
    Question("engine.fuel", "Diesel or petrol?", required=True),
    Question("engine.cylinders", "How many cylinders?", required=True),
    Question("engine.layout", "In line or vee?", applies=_may_be_a_vee, usual=_usual_layout, spellings=_LAYOUTS),
    Question(
        "engine.bank_angle",
        "Angle between its banks, for instance 90 deg?",
        without="Then even firing is taken, as with offset crank pins; else write firing_angles into the file.",
        applies=_is_a_vee,
        usual=_usual_bank,
    ),
    Question("engine.firing_order", "Firing order, for instance 1 3 4 2?"),
    Question("engine.bore", "Bore of the cylinders?", required=True),
    Question("engine.stroke", "Stroke?", required=True),
    Question("engine.rated_rpm", "Rated speed on the data plate [rpm]?", required=True),
    Question("engine.rated_power", "Rated power, with its unit (kW, hp or PS)?", required=True),
    Question("engine.idle_rpm", "Idle speed, by tachometer if you can [rpm]?", required=True),
    Question("flywheel.outer_diameter", "Outer diameter of the flywheel?", estimated=("flywheel.inertia",)),
    Question("flywheel.mass", "Its mass, with the ring gear?", estimated=("flywheel.inertia",)),
    Question(
        "plate.stop_angle",
        "The plate on the bench: twist from the middle to solid, one direction?",
        without="That band holds most plates of this size; no rule knows it. Measure this first: "
        "`calmshaft worksheet bench`.",
    ),
    Question(
        "plate.stages[0].stiffness",
        "Its stiffness before it is solid (torque by wrench over angle), for instance 16 N*m/deg?",
        without="Plates of one torque differ fourfold. Measure this first: torque wrench and dial gauge on a splined "
        "stub, `calmshaft worksheet bench`.",
    ),
    Question("plate.free_play", "Its free play, whole width?", estimated=("plate.free_play",)),
    Question(
        "gearbox.ahead.ratio",
        "Gear ratio ahead, input turns for one output turn?",
        without=NEUTRAL_ONLY,
    ),
    Question("shaft.diameter", "Diameter of the propeller shaft?", without=NEUTRAL_ONLY, applies=_in_gear),
    Question("shaft.length", "Its length between the hubs?", without=NEUTRAL_ONLY, applies=_in_gear),
    Question("propeller.diameter", "Diameter of the propeller?", without=NEUTRAL_ONLY, applies=_in_gear),
    Question("propeller.pitch", "Its pitch, as stamped?", estimated=("propeller.pitch",), applies=_in_gear),
    Question(
        "propeller.full_throttle_rpm",
        "Crank speed really reached ahead at full throttle [rpm]?",
        estimated=("propeller.full_throttle_rpm",),
        applies=_in_gear,
    ),
)


def plate_band(answers: Mapping[str, Any], known: Mapping[str, Quantity]) -> dict[str, Any]:
    """What is assumed of a plate nobody measured: solid at 1.4 x the engine's torque, a fourfold band of stiffness.

    k = 1.4 T / (stop - half the free play); plates of one torque differ fourfold (own comparison, value from memory).
    """
    torque = known["engine.rated_torque"].value
    band: dict[str, Any] = {}
    stop = 10.0 * DEGREE
    if "plate.stop_angle" in answers:
        written = answers["plate.stop_angle"]
        stop = units.parse(written["value"] if isinstance(written, dict) else written, "angle")
    else:
        band["plate.stop_angle"] = {"value": "10 deg", "source": "estimated", "range": "40 %"}
    stiffness = 1.4 * torque * DEGREE / max(stop - 0.5 * DEGREE, DEGREE)  # [N m/deg]
    value = {"value": f"{stiffness:.3g} N*m/deg", "source": "estimated", "range": "60 %"}
    return band | {"plate.stages[0].stiffness": value}
