"""How large the parts of a line are and where they stand in a side view, before anything is drawn."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from calmshaft.condition import Condition
from calmshaft.line import Line
from calmshaft.runs import cylinders

PAPER = 160.0  # [mm] width of the drawing
_MARGIN = 5.0  # [mm]
_TALLEST = 58.0  # [mm] of the machinery
_STEEL = 7850.0  # [kg/m^3]
# Sizes that a line does not tell, as shares; common practice, no source.
_PITCH = {"inline": 1.3, "vee": 1.55}  # of the bore, from cylinder to cylinder
_FLYWHEEL_WIDTH = 0.12  # of its diameter
_PLATE = (0.72, 0.16)  # diameter and width, of the flywheel's diameter
_BOX_WIDTH = 0.55  # of the flywheel's diameter, and more for each unloaded pair
_PAIR_WIDTH = 0.13
_CENTRES = 0.42  # distance of the gears' axes, of the flywheel's diameter
_PROPELLER_WIDTH = 0.3  # of its diameter
_SHAFT_SHOWN = 0.6  # at most, of the length of all else


@dataclass(frozen=True)
class Cylinder:
    """One cylinder: number, place along the crank [m], bank in front, crank angle after its own firing, strength."""

    number: int
    along: float  # [m] from the free end
    near: bool
    angle: float  # [rad]
    strength: float  # [-] 0: dead


@dataclass(frozen=True)
class Machine:
    """Real sizes [m], and the scale that brings them to paper. Heights count from the crank's axis."""

    cylinders: tuple[Cylinder, ...]
    bore: float  # [m]
    crank_radius: float  # [m]
    rod: float  # [m]
    tilt: float  # [-] share of its height that a tilted cylinder shows from the side
    engine: float  # [m] length
    flywheel: float  # [m] diameter
    flywheel_known: bool  # False: drawn as a steel disc of its inertia
    rigid: bool
    pairs: tuple[str, ...]  # unloaded pairs that turn in this gear
    box: float  # [m] length
    ratio: float | None  # [-] of the pair shown; None where the line has none
    gear: str
    shaft_diameter: float  # [m] 0: there is no shaft
    shaft_length: float  # [m]
    shaft_shown: float  # [m]
    propeller: float  # [m] diameter; 0: there is none
    blades: int

    @property
    def deck(self) -> float:
        """Height [m] of a piston's crown at top dead centre."""
        return (self.crank_radius + self.rod + 0.45 * self.bore) * self.tilt

    @property
    def top(self) -> float:
        return max(self.deck + (0.4 if self.tilt == 1.0 else 0.8) * self.bore, self.flywheel * 0.56)

    @property
    def bottom(self) -> float:
        """Lowest point [m], negative."""
        blade = -min(self.blade_reach(blade) for blade in range(self.blades))
        output = self.centres + max(0.3 * self.flywheel, blade) if self.ratio else 0.0
        return -max(self.crank_radius + 0.75 * self.bore, self.flywheel * 0.56, output)

    def blade_reach(self, blade: int) -> float:
        """Height [m] of a blade's tip over the propeller's axis, the first blade upright."""
        return self.propeller / 2 * math.cos(math.tau * blade / self.blades)

    @property
    def centres(self) -> float:
        return _CENTRES * self.flywheel

    @property
    def plate(self) -> tuple[float, float]:
        """Diameter and width [m]."""
        return _PLATE[0] * self.flywheel, _PLATE[1] * self.flywheel

    @property
    def flywheel_width(self) -> float:
        return _FLYWHEEL_WIDTH * self.flywheel

    @property
    def begins(self) -> dict[str, float]:
        """Where each part begins along the line [m]; "end" closes the last one."""
        places, at = {}, 0.0
        lengths = {"engine": self.engine, "flywheel": self.flywheel_width, "plate": self.plate[1], "box": self.box,
                   "shaft": self.shaft_shown, "propeller": _PROPELLER_WIDTH * self.propeller}  # fmt: skip
        for part, length in lengths.items():
            places[part] = at
            at += length
        return {**places, "end": at}

    @property
    def scale(self) -> float:
        """Millimetres on paper for a metre."""
        return min((PAPER - 2 * _MARGIN) / self.begins["end"], _TALLEST / (self.top - self.bottom))

    def x(self, along: float) -> float:
        """Place on paper [mm] of a place along the line [m]; the drawing stands in the middle."""
        return PAPER / 2 + (along - self.begins["end"] / 2) * self.scale

    @property
    def gear_place(self) -> float:
        """Where the gear pair stands along the line [m]."""
        return self.begins["box"] + self.box * (0.5 if not self.pairs else 0.62)


def machine_of(line: Line, at: Condition) -> Machine:
    """The sizes of a line. What it does not tell is drawn in the proportions above."""
    engine, box = line.core.engine, line.core.gearbox
    layout = str(line.document["engine"].get("layout", "inline"))
    pitch = _PITCH[layout] * engine.bore
    columns = cylinders(line) if layout == "inline" else math.ceil(cylinders(line) / 2)
    pairs = tuple(pair.name for pair in box.unloaded if getattr(pair, f"turns_in_{at.gear}"))
    pair = box.astern if at.gear == "astern" else (box.ahead or box.astern)
    diameter = _value(line, "flywheel.outer_diameter")
    flywheel = diameter or _disc(line.core.flywheel_inertia)
    length = (columns + 0.35) * pitch
    box_length = (_BOX_WIDTH + _PAIR_WIDTH * len(pairs)) * flywheel
    driven = pair is not None and line.core.shaft is not None and line.core.propeller is not None
    shaft, shaft_diameter, propeller = (
        (_value(line, path) or 0.0) if driven else 0.0
        for path in ("shaft.length", "shaft.diameter", "propeller.diameter")
    )
    return Machine(
        cylinders=_cylinders(line, at, layout, pitch),
        bore=engine.bore,
        crank_radius=engine.stroke / 2,
        rod=engine.rod_length,
        tilt=math.cos((_value(line, "engine.bank_angle") or math.radians(90.0)) / 2) if layout == "vee" else 1.0,
        engine=length,
        flywheel=flywheel,
        flywheel_known=diameter is not None,
        rigid=line.core.plate.rigid,
        pairs=pairs,
        box=box_length,
        ratio=pair.ratio if driven and pair else None,
        gear=at.gear,
        shaft_diameter=shaft_diameter,
        shaft_length=shaft,
        shaft_shown=min(shaft, _SHAFT_SHOWN * (length + box_length)),
        propeller=propeller,
        blades=round(_value(line, "propeller.blades") or 3),
    )


def _value(line: Line, path: str) -> float | None:
    value = line._values.get(path)  # also what pieces of a shaft come to
    return None if value is None else float(value)


def _disc(inertia: float) -> float:
    """Diameter [m] of a steel disc of that inertia: J = pi/32 rho w D^4, w = share of D."""
    return float((32.0 * inertia / (math.pi * _STEEL * _FLYWHEEL_WIDTH)) ** 0.2)


def _cylinders(line: Line, at: Condition, layout: str, pitch: float) -> tuple[Cylinder, ...]:
    """Cylinder numbers along the crank; in a vee they alternate between the banks, for want of better knowledge."""
    count = cylinders(line)
    strengths: Any = at.strengths(count) or [1.0] * count
    per_column = 1 if layout == "inline" else 2
    columns = math.ceil(count / per_column)
    found = []
    for number in range(1, count + 1):
        column = (number - 1) // per_column
        if line.document["engine"].get("numbered_from") == "flywheel":
            column = columns - 1 - column
        angle = -line.core.engine.firing_angles[number - 1]
        near = per_column == 1 or number % 2 == 1
        found.append(Cylinder(number, (column + 0.675) * pitch, near, angle, strengths[number - 1]))
    return tuple(found)
