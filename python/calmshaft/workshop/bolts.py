"""The plate on the flywheel: what its bolts are tightened to, what they stand, and what the joint carries.

Maker's grade, torque and new locking hardware; clean threads; never a lower grade.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from calmshaft import _core
from calmshaft.quantity import Quantity
from calmshaft.workshop.ranges import Reading, extremes, need, need_positive

# grade -> proof stress [Pa]; ISO 898-1 and SAE J429, values from memory
PROOF_STRESS = {
    "5.8": 380e6,
    "8.8": 580e6,
    "10.9": 830e6,
    "12.9": 970e6,
    "grade 5": 85_000 * 6894.757,
    "grade 8": 120_000 * 6894.757,
}
FACE_FRICTION = Quantity(0.12, "estimated", 0.10, 0.18, rule="twelve hundredths")  # VDI 2230, value from memory


@dataclass(frozen=True)
class Friction:
    """Friction coefficients [-] of the thread and of the face under the head."""

    thread: Quantity
    head: Quantity


def _between(low: float, usual: float, high: float) -> Quantity:
    return Quantity(usual, "estimated", low, high, rule="friction")


# VDI 2230, values from memory; thread-lock: common practice, no source (wet it smears, the head stays dry)
FRICTIONS = {
    "dry": Friction(_between(0.10, 0.15, 0.21), _between(0.10, 0.15, 0.21)),
    "oiled": Friction(_between(0.08, 0.11, 0.14), _between(0.08, 0.11, 0.14)),
    "thread-lock": Friction(_between(0.09, 0.13, 0.18), _between(0.10, 0.15, 0.21)),
}


@dataclass(frozen=True)
class Bolt:
    """A bolt with a sixty-degree thread: diameter, pitch and mean diameter of the face under the head [m], grade."""

    diameter: float
    pitch: float
    grade: str = "8.8"
    head_diameter: float | None = None

    @property
    def flank_diameter(self) -> float:
        """Of the thread's flanks, where it rubs [m]: d - 0.6495 P."""
        return self.diameter - 0.6495 * self.pitch

    @property
    def face_diameter(self) -> float:
        """Mean diameter of the ring under the head [m]; 1.3 d for a usual hexagon head where it is not given."""
        return self.head_diameter or 1.3 * self.diameter

    @property
    def stress_area(self) -> float:
        """Of the thread [m^2]: pi/4 (d - c P)^2, c = 0.9382 (ISO 898-1) or, for inch grades, 0.9743 (ASME B1.1)."""
        lost = 0.9743 if self.grade.startswith("grade") else 0.9382
        return math.pi / 4 * (self.diameter - lost * self.pitch) ** 2


def friction_of(state: str) -> Friction:
    """Friction of a clean bolt, "dry", "oiled" or "thread-lock". Raises LineError for another word."""
    need(state in FRICTIONS, "state", f'"{state}"', "is not known", f"write {' or '.join(FRICTIONS)}")
    return FRICTIONS[state]


def preload(bolt: Bolt, torque: Reading, friction: Friction) -> Quantity:
    """Pull of one tightened bolt [N] for a torque on the wrench [N m], and its range.

    T = F [P/(2 pi) + mu_thread d2/(2 cos 30 deg) + mu_head D/2] (VDI 2230, from memory). Raises LineError.
    """
    _check(bolt)
    need_positive(torque=torque)

    def pull(torque: float, thread: float, head: float) -> float:
        rub = thread * bolt.flank_diameter / (2 * math.cos(math.pi / 6)) + head * bolt.face_diameter / 2
        return torque / (bolt.pitch / math.tau + rub)

    return extremes(pull, torque, friction.thread, friction.head)


def proof_load(bolt: Bolt) -> float:
    """Pull up to which a bolt does not stay longer [N]: proof stress of its grade x stress area. Raises LineError."""
    _check(bolt)
    return PROOF_STRESS[bolt.grade] * bolt.stress_area


def slip_torque(count: int, pull: Reading, circle: Reading, face_friction: Reading = FACE_FRICTION) -> Quantity:
    """Torque that the clamped faces carry before they slip [N m], and its range.

    count of bolts, pull of each [N], diameter of their circle [m], friction of the faces [-]. T = n F mu D / 2.
    """
    need_positive(count=count, pull=pull, circle=circle, face_friction=face_friction)
    return extremes(lambda pull, circle, mu: count * pull * mu * circle / 2, pull, circle, face_friction)


def pocket_pressure(
    torque: Reading, springs: int, spring_radius: Reading, wire: Reading, sheet: Reading, sheets: int = 1
) -> Quantity:
    """Pressure of the spring's end on the edge of its pocket [Pa], and its range.

    torque shared by the springs [N m], their number, radius from the axis [m], wire diameter [m], thickness of the
    sheet [m], number of sheets that share it. The flat end coil crosses the edge twice: p = T/(z R) / (2 d t n).
    """
    need_positive(torque=torque, springs=springs, spring_radius=spring_radius, wire=wire, sheet=sheet, sheets=sheets)

    def pressure(torque: float, radius: float, wire: float, sheet: float) -> float:
        return torque / (springs * radius) / (2 * wire * sheet * sheets)

    return extremes(pressure, torque, spring_radius, wire, sheet)


def _check(bolt: Bolt) -> None:
    need_positive(diameter=bolt.diameter, pitch=bolt.pitch, head_diameter=bolt.face_diameter)
    fits = bolt.pitch < 0.4 * bolt.diameter
    need(fits, "pitch", bolt.pitch, "is too coarse for the diameter", "give both in m: M10 is 0.010 and 0.0015")
    near = _core.near_matches(bolt.grade, list(PROOF_STRESS)) or list(PROOF_STRESS)
    need(bolt.grade in PROOF_STRESS, "grade", f'"{bolt.grade}"', "is not known", f"write {' or '.join(near)}")
