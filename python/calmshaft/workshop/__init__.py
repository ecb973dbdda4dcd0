"""What a workshop measures with calipers, scale, tape, clock and torque wrench, turned into values with a range.

Every reading is a number in SI, taken as exact, or `measured(value, error)`. Answers with a range are a Quantity of
value, low and high.
"""

from __future__ import annotations

from importlib import import_module
from typing import Any

# name -> module; loaded when first asked for
_HOMES = {
    "backlash": "gearbox",
    "Bolt": "bolts",
    "density_of": "discs",
    "Disc": "discs",
    "discs_inertia": "discs",
    "discs_mass": "discs",
    "drag": "gearbox",
    "entrained_water": "propellers",
    "equivalent_length": "shafts",
    "Friction": "bolts",
    "friction_of": "bolts",
    "Holes": "discs",
    "inertia_by_two_weights": "gearbox",
    "Joint": "joint",
    "joint_of": "joint",
    "measured": "ranges",
    "percent": "ranges",
    "Piece": "shafts",
    "plate_alone": "plate_by_itself",
    "plate_springs": "plate_twist",
    "pocket_pressure": "bolts",
    "preload": "bolts",
    "proof_load": "bolts",
    "propeller_inertia": "propellers",
    "propeller_mass": "propellers",
    "rod_by_scales": "hang",
    "rod_swing": "hang",
    "shaft_inertia": "shafts",
    "shaft_stiffness": "shafts",
    "slip_torque": "bolts",
    "Spring": "springs",
    "swing_time": "hang",
    "tensile_strength": "springs",
    "thread_named": "threads",
    "trifilar": "hang",
    "water_ways": "propellers",
}
__all__ = sorted(_HOMES)


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
