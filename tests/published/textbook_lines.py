"""Lines as bare as textbook systems: discs and springs, no friction, no free play, light pistons."""

import math

import numpy as np

from calmshaft import _core

RPM = math.pi / 30
LIGHT = 1e-9  # [kg] or [kg m^2] what the textbook leaves out


def engine(inertia: float = 1.0, **fields) -> _core.Engine:
    """One cylinder whose crank carries half of `inertia` [kg m^2], the flywheel being meant to carry the rest."""
    friction = _core.EngineFriction(constant=0.0, per_speed=0.0, per_piston_speed_squared=0.0)
    plain = {
        "firing_angles": [0.0],
        "bore": 0.08,
        "stroke": 0.09,
        "rod_length": 0.145,
        "compression_ratio": 10.0,
        "piston_mass": LIGHT,
        "rod_mass": LIGHT,
        "rod_centre_from_big_end": 0.04,
        "rod_inertia": LIGHT * 0.01**2,
        "crank_inertia": inertia / 2,
        "rated_torque": 20.0,
        "rated_speed": 2000 * RPM,
        "combustion": _core.default_combustion(_core.Fuel.petrol, 4),
        "friction": friction,
    }
    return _core.Engine(**{**plain, **fields})


def plate(stiffness: float, damping: float = 0.0) -> _core.Plate:
    """A plate with one stage [N m/rad] and viscous damping [N m s/rad]."""
    side = _core.PlateSide(stages=[_core.PlateStage(stiffness=stiffness, until=1.0)], stop_angle=1.0)
    return _core.Plate(
        viscous_damping=damping, presliding_angle=0.01, stop_stiffness=100 * stiffness, drive=side, coast=side
    )


def neutral(crank: float, stiffness: float, gearbox: float, damping: float = 0.0) -> _core.Line:
    """Crank and gearbox input [kg m^2] joined by the plate."""
    box = _core.Gearbox(rated_torque=100.0, input_inertia=gearbox)
    return _core.Line(
        title="textbook", engine=engine(crank), flywheel_inertia=crank / 2, plate=plate(stiffness, damping), gearbox=box
    )


def with_output(line: _core.Line, ratio: float, mesh: float, wheel: float, shaft: _core.Shaft, propeller: float):
    """The line with a gear pair of mesh stiffness `mesh` [N m/rad], a shaft and a propeller [kg m^2]."""
    teeth = _core.ToothContact(stiffness=mesh)
    line.gearbox.ahead = _core.LoadedPair(ratio=ratio, output_inertia=wheel, contact=teeth)
    line.shaft = shaft
    law = {"absorbs_torque": 20.0, "absorbs_speed": 2000 * RPM, "extra_damping": 0.0}
    line.propeller = _core.Propeller(inertia=propeller, **law)
    return line


def crank_tables(made: _core.Engine, nodes: int, strengths=()) -> dict[str, np.ndarray]:
    """Crank-angle tables of an engine at its rated speed, in SI."""
    line = neutral(1.0, 1000.0, 0.1)
    line.engine = made
    at = _core.Condition(speed=made.rated_speed, gear=_core.Gear.neutral, strengths=list(strengths))
    return _core.mass_elastic_system(_core.PreparedLine(line), at, nodes)["tables"]
