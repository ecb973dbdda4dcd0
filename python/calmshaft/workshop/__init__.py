"""What a workshop measures with scale, tape, clock and torque wrench, turned into values with a range.

Every reading is a number in SI, taken as exact, or `measured(value, error)`. Every answer is a Quantity: value, low
and high.
"""

from calmshaft.workshop.bolts import (
    Bolt,
    Friction,
    friction_of,
    pocket_pressure,
    preload,
    proof_load,
    slip_torque,
)
from calmshaft.workshop.discs import Disc, Holes, density_of, discs_inertia, discs_mass
from calmshaft.workshop.gearbox import backlash, drag, inertia_by_two_weights
from calmshaft.workshop.hang import rod_by_scales, rod_swing, swing_time, trifilar
from calmshaft.workshop.propellers import entrained_water, propeller_inertia, propeller_mass, water_ways
from calmshaft.workshop.ranges import measured, percent
from calmshaft.workshop.shafts import Piece, equivalent_length, shaft_inertia, shaft_stiffness

__all__ = [
    "Bolt",
    "Disc",
    "Friction",
    "Holes",
    "Piece",
    "backlash",
    "density_of",
    "discs_inertia",
    "discs_mass",
    "drag",
    "entrained_water",
    "equivalent_length",
    "friction_of",
    "inertia_by_two_weights",
    "measured",
    "percent",
    "pocket_pressure",
    "preload",
    "proof_load",
    "propeller_inertia",
    "propeller_mass",
    "rod_by_scales",
    "rod_swing",
    "shaft_inertia",
    "shaft_stiffness",
    "slip_torque",
    "swing_time",
    "trifilar",
    "water_ways",
]
