"""The spring damper plate. Its stages have no honest rule: they must be known."""

import math
from itertools import count, takewhile

from calmshaft.estimates.rules import Known, Spread, factor, number, rule

DEGREE = math.pi / 180  # [rad]
TRADE = "trade, value from memory"


def has_springs(known: Known) -> bool:
    """A plate with stages, so neither a solid drive nor a line without a plate."""
    return known.get("plate.kind") != "rigid" and bool(_drive_stages(known))


def _drive_stages(known: Known) -> list[int]:
    """Indices of the stages of the drive side, from the middle outwards."""
    stages = takewhile(lambda index: f"plate.stages[{index}].stiffness" in known, count())
    return [index for index in stages if known.get(f"plate.stages[{index}].side", "drive") != "coast"]


def last_stiffness(known: Known) -> float:
    """Slope of the stage that carries rated torque [N m/rad]."""
    return number(known, f"plate.stages[{_drive_stages(known)[-1]}].stiffness")


def stop_torque(known: Known) -> float | None:
    """Torque of the springs at the stop [N m]; None for a plate without a known stop."""
    if "plate.stop_angle" not in known or not has_springs(known):
        return None
    stop = number(known, "plate.stop_angle")
    begin, torque = float(known.get("plate.free_play", 1 * DEGREE)) / 2, 0.0  # type: ignore[arg-type]
    stages = _drive_stages(known)
    if any(f"plate.stages[{index}].until" not in known for index in stages[:-1]):
        return None
    for index in stages:
        until = number(known, f"plate.stages[{index}].until") if index != stages[-1] else stop
        torque += number(known, f"plate.stages[{index}].stiffness") * max(0.0, min(until, stop) - begin)
        begin = until
    return torque


def _plate_torque(known: Known) -> float:
    return number(known, "plate.rated_torque" if "plate.rated_torque" in known else "engine.rated_torque")


@rule(
    "plate.free_play",
    "one degree",
    formula="1 deg whole width, lash of the spline included; never more than the first stage leaves",
    spread="0 to 2 deg",
    measure="Rock the hub by hand with a dial gauge at a known radius.",
    sheet="bench",
    source=TRADE,
    applies=has_springs,
)
def _free_play(known: Known) -> Spread:
    stages = _drive_stages(known)
    first_corner = float(known.get(f"plate.stages[{stages[0]}].until", math.inf))  # type: ignore[arg-type]
    return min(1 * DEGREE, first_corner), 0.0, min(2 * DEGREE, 1.5 * first_corner)


@rule(
    "plate.rated_torque",
    "stop over 1.4",
    formula="torque at the stop / 1.4",
    spread="torque at the stop / 2 to / 1.2",
    measure="Read its tag; else take the torque at the stop on the bench.",
    sheet="bench",
    source="trade, no source",
    applies=lambda known: bool(stop_torque(known)),
    cautions=("spring",),
)
def _rated_torque(known: Known) -> Spread:
    stop = stop_torque(known) or 0.0
    return stop / 1.4, stop / 2.0, stop / 1.2


@rule(
    "plate.hysteresis_full_width",
    "three hundredths",
    formula="0.03 x torque at the stop, dry washers; without a stop 0.03 x 1.4 x rated torque",
    spread="from value/2.5 to value x 2.5",
    measure="Gap between the rising and the falling curve on the bench.",
    sheet="bench",
    source=TRADE,
    needs=("engine.rated_torque",),
    applies=has_springs,
    cautions=("spring",),
)
def _hysteresis(known: Known) -> Spread:
    return factor(0.03 * (stop_torque(known) or 1.4 * _plate_torque(known)), 2.5)


@rule(
    "plate.presliding_angle",
    "tenth of a degree",
    formula="0.1 deg from rest to full sliding",
    spread="0.05 to 0.3 deg",
    measure="Slope after a reversal on the bench.",
    source=TRADE,
    applies=has_springs,
    cautions=("spring",),
)
def _presliding(known: Known) -> Spread:
    return 0.1 * DEGREE, 0.05 * DEGREE, 0.3 * DEGREE


@rule(
    "plate.stop_stiffness",
    "hundred stages",
    formula="100 x stiffness of the last stage",
    spread="20 to 200 x the last stage",
    measure="Not needed: whether the stop is reached does not depend on it.",
    source=TRADE,
    applies=has_springs,
)
def _stop_stiffness(known: Known) -> Spread:
    last = last_stiffness(known)
    return 100 * last, 20 * last, 200 * last


@rule(
    "plate.hub_inertia",
    "driven disc",
    formula="5e-7 kg m^2 x (torque of the plate in N m)^1.67",
    spread="from value/2.5 to value x 2.5",
    measure="Calipers: 770 kg/m^3 x thickness x diameter^4 for each steel disc, good for 20 %.",
    source="own geometry",
    needs=("engine.rated_torque",),
)
def _hub_inertia(known: Known) -> Spread:
    return factor(5e-7 * _plate_torque(known) ** 1.67, 2.5)


@rule(
    "plate.viscous_damping",
    "five per cent",
    formula="5 % of critical: 0.1 x sqrt(last stage in N m/rad x (hub inertia + gearbox input inertia))",
    spread="from value/3 to value x 3",
    measure="Only from a measured resonance peak, at the flywheel and behind the plate.",
    source="value from memory",
    needs=("plate.hub_inertia", "gearbox.input_inertia"),
    applies=has_springs,
    cautions=("run",),
)
def _viscous_damping(known: Known) -> Spread:
    behind = number(known, "plate.hub_inertia") + number(known, "gearbox.input_inertia")
    return factor(0.1 * math.sqrt(last_stiffness(known) * behind), 3)
