"""Torsional vibration stress of propulsion shafts by IACS UR M68, where the user says that this rule applies.

Written from memory: the class society's own text counts. Nothing here is used unless it is asked for.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from calmshaft.judgement.sources import SEEN, Figure, Source, positive, require
from calmshaft.judgement.verdicts import Judgement, against

_RULE = "IACS UR M68"
STRESS = Source(_RULE, "section 5, permissible torsional vibration stress")
SIZE = Source(_RULE, "size factor; also in a society's naval rules", SEEN)
DIAMETER = Source(_RULE, "section 4, least diameter")
BARRED = Source(_RULE, "section 5, barred speed range")

# Factor for the shape, C_K. Seen in a society's naval rules: flange, shrink fit, keyway in a taper; rest from memory.
SHAPE_FACTORS: Mapping[str, float] = MappingProxyType(
    {
        "integral flange": 1.0,
        "shrink fit": 1.0,
        "keyway in a taper": 0.60,
        "keyway in a cylinder": 0.45,
        "radial hole": 0.50,
        "longitudinal slot": 0.30,
        "thrust shaft": 0.85,
        "propeller shaft, flange or keyless": 0.55,
        "propeller shaft, keyed": 0.55,
        "propeller shaft, forward part": 0.80,
    }
)
# Greatest ultimate strength that the formulas take [Pa]; from memory.
STRENGTH_CAPS: Mapping[str, float] = MappingProxyType({"carbon-manganese steel": 600e6, "alloy steel": 800e6})
PROPELLER_CAP = 600e6  # [Pa] of any steel where it is a propeller shaft; from memory
HIGHEST_RATIO = 1.05  # [-] of rated speed up to which the formulas go
QUICK_BELOW = 0.8  # [-] of rated speed below which resonance may be passed through quickly


@dataclass(frozen=True, slots=True)
class PropulsionShaft:
    """A plain solid shaft as the rule sees it.

    applies: whether the user says that UR M68 applies; only True has it judged. material: "carbon-manganese steel",
    "alloy steel", or what it is made of; ultimate_strength [Pa] of the material certificate, None where not known;
    diameter [m]; shape: a key of SHAPE_FACTORS.
    """

    material: str
    diameter: float
    shape: str
    ultimate_strength: float | None = None
    applies: bool = False

    def __post_init__(self) -> None:
        known = self.ultimate_strength is None or 0 < self.ultimate_strength < math.inf
        require(
            positive("diameter", self.diameter, "m", "0.04 for 40 mm"),
            (self.shape in SHAPE_FACTORS, "shape", self.shape, "is not a shape", f"write {', '.join(SHAPE_FACTORS)}"),
            (known, "ultimate_strength", self.ultimate_strength, "must be more than zero", "write 600e6 for 600 MPa"),
        )

    def why_not(self) -> str:
        """Why the rule does not judge this shaft; empty where it does."""
        if self.applies is not True:
            return f"nobody said that {_RULE} applies to this vessel"
        if self.material not in STRENGTH_CAPS:
            steels = " and ".join(STRENGTH_CAPS)
            return f"{self.material} is outside of {_RULE} as it is written here, which takes {steels}"
        if self.ultimate_strength is None:
            return "the ultimate strength of the shaft's certificate is not entered: [shaft] ultimate_strength"
        return ""

    @property
    def counted_strength(self) -> float:
        """Ultimate strength with the rule's cap [Pa]."""
        cap = STRENGTH_CAPS[self.material]
        if self.shape.startswith("propeller shaft"):
            cap = min(cap, PROPELLER_CAP)
        return min(self.ultimate_strength or math.nan, cap)


def size_factor(diameter: float) -> float:
    """C_D = 0.35 + 0.93 d^-0.2 [-], d in mm; diameter [m]."""
    require(positive("diameter", diameter, "m", "0.04 for 40 mm"))
    return 0.35 + 0.93 * (1000 * diameter) ** -0.2


def continuous_stress(shaft: PropulsionShaft, speed_ratio: float) -> Figure:
    """tau_C = (s_B + 160) / 18 C_K C_D (3 - 2 lambda^2), 1.38 in place of the bracket from lambda 0.9 on [Pa].

    speed_ratio lambda: speed over rated speed [-], 0 to 1.05. Half range of the stress of all orders together, on the
    plain section. Raises LineError for another ratio or a shaft that the rule does not judge.
    """
    _refuse(shaft, speed_ratio)
    bracket = 3 - 2 * speed_ratio**2 if speed_ratio < 0.9 else 1.38
    strength = (shaft.counted_strength / 1e6 + 160) / 18
    stress = strength * SHAPE_FACTORS[shaft.shape] * size_factor(shaft.diameter) * bracket
    equation = "(s_B + 160) / 18 C_K C_D " + ("(3 - 2 lambda^2)" if speed_ratio < 0.9 else "1.38")
    return Figure("stress in continuous running", 1e6 * stress, "Pa", equation, STRESS)


def passing_stress(shaft: PropulsionShaft, speed_ratio: float) -> Figure:
    """tau_T = 1.7 tau_C / sqrt(C_K) [Pa], for passing quickly through a barred range below lambda 0.8."""
    value = 1.7 * continuous_stress(shaft, speed_ratio).value / math.sqrt(SHAPE_FACTORS[shaft.shape])
    return Figure("stress while passing quickly", value, "Pa", "1.7 tau_C / sqrt(C_K)", STRESS)


def _refuse(shaft: PropulsionShaft, speed_ratio: float) -> None:
    why = shaft.why_not()
    in_range = 0 <= speed_ratio <= HIGHEST_RATIO
    require(
        (not why, "shaft", shaft.material, why, "leave it not judged"),
        (in_range, "speed_ratio", speed_ratio, "lies between 0 and 1.05", "write speed over rated speed"),
    )


def judge_shaft(
    shaft: PropulsionShaft, speed_ratio: float, vibratory_stress: float, passing: bool = False
) -> Judgement:
    """Vibratory stress [Pa], half range, of a shaft at a speed, running there or passing through quickly."""
    subject = "vibratory stress of the shaft" + (", passing quickly" if passing else "")
    why = shaft.why_not()
    if not why and not 0 <= speed_ratio <= HIGHEST_RATIO:
        why = f"{speed_ratio:.3g} of rated speed lies beyond the rule's 0 to {HIGHEST_RATIO}"
    if not why and passing and speed_ratio > QUICK_BELOW:
        why = f"above {QUICK_BELOW} of rated speed the rule knows no quick passing"
    if why:
        return Judgement(subject, "not judged", why, vibratory_stress / 1e6, unit="MPa")
    limit = passing_stress(shaft, speed_ratio) if passing else continuous_stress(shaft, speed_ratio)
    numbers = f"{vibratory_stress / 1e6:.3g} MPa beside {limit.value / 1e6:.3g} MPa by {limit.source}"
    word = against(vibratory_stress, limit.value)
    return Judgement(subject, word, numbers, vibratory_stress / 1e6, limit.value / 1e6, "MPa", document=str(STRESS))


def barred_range(critical_rpm: float, rated_rpm: float) -> tuple[float, float] | None:
    """16 n_c / (18 - lambda) to (18 - lambda) n_c / 16 [rpm]; None above lambda 0.8, where none may lie.

    critical_rpm n_c, lambda = n_c / rated_rpm. From memory, UR M68.
    """
    require(
        positive("critical_rpm", critical_rpm, "rpm", "the critical speed"),
        positive("rated_rpm", rated_rpm, "rpm", "the rated speed"),
    )
    ratio = critical_rpm / rated_rpm
    if ratio > QUICK_BELOW:
        return None
    return 16 * critical_rpm / (18 - ratio), (18 - ratio) * critical_rpm / 16


def least_diameter(
    power: float, rpm: float, ultimate_strength: float, drive_factor: float, shape_factor: float
) -> Figure:
    """d = F k (P / n x 560 / (s_B + 160))^(1/3) in mm, kW, rpm, N/mm^2; returned in m.

    power [W], speed of the shaft [rpm], ultimate_strength [Pa]. drive_factor F: 95 turbine or elastic drive, 100
    others; shape_factor k: 1 flange, 1.22 keyless and 1.26 keyed propeller shaft. From memory.
    """
    require(
        positive("power", power, "W", "45e3 for 45 kW"),
        positive("rpm", rpm, "rpm", "the shaft's own speed"),
        positive("ultimate_strength", ultimate_strength, "Pa", "600e6 for 600 MPa"),
        positive("drive_factor", drive_factor, "", "95 or 100"),
        positive("shape_factor", shape_factor, "", "1, 1.22 or 1.26"),
    )
    cubed = power / 1e3 / rpm * 560 / (ultimate_strength / 1e6 + 160)
    millimetres = drive_factor * shape_factor * cubed ** (1 / 3)
    return Figure("least diameter", millimetres / 1e3, "m", "F k (P / n x 560 / (s_B + 160))^(1/3)", DIAMETER)


def solid_shaft_stress(torque: float, diameter: float) -> float:
    """tau = 16 T / (pi d^3) [Pa] at the surface of a plain solid shaft; torque [N m], diameter [m]."""
    require(positive("diameter", diameter, "m", "0.04 for 40 mm"))
    return 16 * torque / (math.pi * diameter**3)
