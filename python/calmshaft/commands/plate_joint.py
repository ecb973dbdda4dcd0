"""What `plate` says of bolts and spring pockets."""

from __future__ import annotations

import math

from calmshaft import units
from calmshaft.judgement.joint import factor_words
from calmshaft.wording import number
from calmshaft.workshop import pocket_pressure
from calmshaft.workshop.joint import Pockets
from calmshaft.workshop.plate_by_itself import PlateAlone
from calmshaft.workshop.plate_twist import SpringGroup, SpringLoad
from calmshaft.workshop.ranges import value_of


def greatest(found: PlateAlone) -> tuple[float, str]:
    """The most that the plate carries short of a blow on its stop [N m], and what it is."""
    stops = [found.stop("drive"), -found.stop("coast")]
    torques = [abs(found.torque(stop)) for stop in stops if math.isfinite(stop)]
    width = found.core.hysteresis_full_width
    return max(torques, default=math.nan) + (width / 2 if width > 0 else 0.0), "the torque at the plate's stop"


def joint_lines(found: PlateAlone) -> list[str]:
    """The joint as understood, and how it stands beside the torque that the plate is made for."""
    joint = found.joint
    if joint is None:
        return []
    torque = units.show(value_of(joint.tightening_torque), "torque")
    circle = units.show(value_of(joint.circle), "length")
    lines = [f"Bolted to the flywheel by {joint.count} of {joint.name} on {circle}, {torque}, {joint.threads}."]
    return [*lines, factor_words(joint, found.core.rated_torque)] if found.core.rated_torque else lines


def pocket_text(pockets: Pockets, group: SpringGroup, load: SpringLoad) -> str:
    """Pressure of a spring's end on the edges of its pocket [MPa]; nothing for a spring that carries nothing."""
    if not load.torque > 0:
        return "0"
    wire = group.spring.wire_diameter
    found = pocket_pressure(load.torque, load.count, group.pitch_radius, wire, pockets.thickness, pockets.sheets)
    return number(found.value / 1e6)
