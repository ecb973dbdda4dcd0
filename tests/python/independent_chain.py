"""Stations, joints and torques of a line in time form, for the independent oracle.

State: [crank angle, q_1.., w_0, w_1..] with q_i = angle_i - crank angle / turns_i, where station i makes one
turn in turns_i crank turns (negative astern). Positive is the direction of running ahead; at the input shaft
torque is positive when the engine drives.
"""

from dataclasses import dataclass, field
from typing import Any

import numpy as np
from scipy.interpolate import CubicSpline

from independent_engine import EngineTables, friction_torque

STOP_RESTITUTION_SPEED = 0.5  # [rad/s] approach speed at which the plate's stop_restitution holds


def name_of(value: Any) -> str:
    """Accept enumerators and plain strings alike."""
    return getattr(value, "name", value)


def chi(restitution: float, speed: float) -> float:
    """Hunt-Crossley damping factor [s/rad] for small losses, 3 (1 - e) / (2 v0) (Hunt and Crossley 1975)."""
    return 1.5 * (1 - restitution) / speed


def flank(depth: float, rate: float, stiffness: float, factor: float) -> float:
    """Hunt-Crossley torque of one flank: k g max(0, 1 + chi dg/dt), zero while apart."""
    return stiffness * depth * max(0.0, 1 + factor * rate) if depth > 0 else 0.0


@dataclass(frozen=True)
class Gap:
    """Two-sided contact with free width; torque acts from the first station on the second."""

    half: float  # [rad]
    stiffness: float  # [N m/rad]
    factor: float  # [s/rad]

    def torque(self, twist: float, rate: float) -> float:
        if twist > 0:
            return flank(twist - self.half, rate, self.stiffness, self.factor)
        return -flank(-twist - self.half, -rate, self.stiffness, self.factor)

    def stored(self, twist: float) -> float:
        return 0.5 * self.stiffness * max(0.0, abs(twist) - self.half) ** 2

    def stored_rate(self, twist: float, rate: float) -> float:
        return self.stiffness * max(0.0, abs(twist) - self.half) * (rate if twist > 0 else -rate)


class PlateSpring:
    """Piecewise linear stages of both sides; the last stage runs on past its end."""

    def __init__(self, plate: Any) -> None:
        self.sides = [self._corners(side.stages, plate.free_play / 2) for side in (plate.coast, plate.drive)]

    @staticmethod
    def _corners(stages: list[Any], start: float) -> list[tuple[float, float, float, float]]:
        """(start, stiffness, torque at start, energy at start) of each stage, outermost first."""
        corners, torque, energy = [], 0.0, 0.0
        for stage in stages:
            corners.append((start, stage.stiffness, torque, energy))
            width = stage.until - start
            energy += torque * width + stage.stiffness * width**2 / 2
            torque, start = torque + stage.stiffness * width, stage.until
        return corners[::-1]

    def torque(self, twist: float) -> float:
        size = abs(twist)
        for start, stiffness, base, _ in self.sides[int(twist > 0)]:
            if size > start:
                return (base + stiffness * (size - start)) * (1 if twist > 0 else -1)
        return 0.0

    def stored(self, twist: float) -> float:
        size = abs(twist)
        for start, stiffness, base, energy in self.sides[int(twist > 0)]:
            if size > start:
                return energy + base * (size - start) + stiffness * (size - start) ** 2 / 2
        return 0.0


class PlateStops:
    """Hub stops of both sides, in addition to the last stage."""

    def __init__(self, plate: Any) -> None:
        self.factor = chi(plate.stop_restitution, STOP_RESTITUTION_SPEED)
        self.stiffness, self.angles = plate.stop_stiffness, (plate.coast.stop_angle, plate.drive.stop_angle)

    def _side(self, twist: float) -> Gap:
        return Gap(self.angles[int(twist > 0)], self.stiffness, self.factor)

    def torque(self, twist: float, rate: float) -> float:
        side = self.angles[int(twist > 0)]
        return self._side(twist).torque(twist, rate) if abs(twist) > side else 0.0

    def stored(self, twist: float) -> float:
        return self._side(twist).stored(twist) if abs(twist) > self.angles[int(twist > 0)] else 0.0

    def stored_rate(self, twist: float, rate: float) -> float:
        return self._side(twist).stored_rate(twist, rate) if abs(twist) > self.angles[int(twist > 0)] else 0.0


@dataclass
class DryFriction:
    """Elastic-perfectly-plastic: while it sticks, torque = k (twist - anchor); while it slips, +-limit."""

    limit: float  # [N m]
    reach: float  # [rad] twist from zero torque to slip
    anchor: float = 0.0  # [rad] twist of zero torque
    slip: int = 0  # 0 sticks, +1 or -1 slips that way

    def torque(self, twist: float) -> float:
        return self.limit * (self.slip or (twist - self.anchor) / self.reach)


@dataclass
class Chain:
    """Everything the right-hand side needs. Station 0 is the crank; joints name the stations they join."""

    tables: EngineTables
    engine: Any
    inertias: list[float]  # [kg m^2] own shaft; the crank's is in the tables
    turns: list[float]  # crank turns in one own turn
    drags: list[float]  # [N m] constant resistance at each station
    input_station: int
    spring: PlateSpring | None = None
    stops: PlateStops | None = None
    friction: DryFriction | None = None
    plate_damping: float = 0.0
    gaps: list[tuple[str, int, int, Gap]] = field(default_factory=list)
    shafts: list[tuple[int, int, float, float]] = field(default_factory=list)  # from, to, stiffness, damping
    propeller: int | None = None
    propeller_law: float = 0.0  # [N m s^2/rad^2]
    extra_law: float = 0.0  # [N m s/rad]
    extra_damping: float = 0.0  # [-]
    mean_speed: float = 0.0  # [rad/s] crank

    def set_mean_speed(self, speed: float) -> None:
        """Set the mean about which the propeller's extra damping acts."""
        self.mean_speed = speed
        if self.propeller is not None:
            own = abs(speed / self.turns[self.propeller])
            self.extra_law = self.extra_damping * self.propeller_law * own

    def extra_slope(self) -> float:
        """What the extra damping adds to the slope of resistance at the crank [N m s/rad]."""
        return self.extra_law / self.turns[self.propeller] ** 2 if self.propeller is not None else 0.0

    def set_fuelling(self, factor: float) -> None:
        """Freeze the fuelling factor into the spline of (inertia, slope, gas torque) over crank angle."""
        tables = self.tables
        columns = np.stack([tables.inertia, tables.slope, tables.base + factor * tables.fuelled], axis=1)
        nodes = len(columns)
        grid = np.linspace(0, tables.period, nodes + 1)
        spline = CubicSpline(grid, np.vstack([columns, columns[:1]]), bc_type="periodic")
        # one row per interval: the four coefficients of each of the three columns
        self.rows = spline.c.transpose(1, 2, 0).reshape(nodes, 12).tolist()
        self.step = tables.period / nodes

    def crank(self, angle: float) -> tuple[float, float, float]:
        """Inertia, slope and gas torque at a crank angle."""
        whole = int(angle / self.step)
        a, b, c, d, e, f, g, h, i, j, k, m = self.rows[whole % len(self.rows)]
        x = angle - whole * self.step
        return ((a * x + b) * x + c) * x + d, ((e * x + f) * x + g) * x + h, ((i * x + j) * x + k) * x + m

    def load(self, speed: float) -> float:
        """Torque of the propeller on its shaft, against its rotation."""
        mean = self.mean_speed / self.turns[self.propeller]
        return -self.propeller_law * speed * abs(speed) - self.extra_law * (speed - mean)

    def joint_torques(self, state: list[float]) -> dict[str, float]:
        """Torques, twists and twist rates of all joints by name; a gap's are at the input shaft."""
        count = len(self.turns)
        q, w = [0.0, *state[1:count]], state[count:]
        values = {}
        if self.spring is not None:
            twist, rate = -q[1], w[0] - w[1]
            values["plate_spring"] = self.spring.torque(twist)
            values["plate_stop"] = self.stops.torque(twist, rate)
            values["plate_friction"] = self.friction.torque(twist) if self.friction else 0.0
            values["plate_twist"], values["plate_rate"] = twist, rate
            values["plate"] = (
                values["plate_spring"] + values["plate_stop"] + values["plate_friction"] + self.plate_damping * rate
            )
        source = self.input_station
        for name, _, to, gap in self.gaps:
            ratio = self.turns[to]
            twist, rate = q[source] - ratio * q[to], w[source] - ratio * w[to]
            values[name], values[name + "_twist"], values[name + "_rate"] = (
                gap.torque(twist, rate),
                twist,
                rate,
            )
        for index, (first, second, stiffness, damping) in enumerate(self.shafts):
            rate = w[first] - w[second]
            values[f"shaft_{index}_rate"] = rate
            values[f"shaft_{index}_twist"] = q[first] - q[second]
            values[f"shaft_{index}"] = stiffness * (q[first] - q[second]) + damping * rate
        return values

    def rates(self, _time: float, state: np.ndarray) -> list[float]:
        """Time derivative of the state; crank: J dw/dt = T - J' w^2 / 2 (Lagrange)."""
        values = state.tolist()
        count = len(self.turns)
        w = values[count:]
        joints = self.joint_torques(values)
        torques = [-drag for drag in self.drags]
        inertia, slope, gas = self.crank(values[0])
        torques[0] += gas - friction_torque(self.engine, w[0]) - 0.5 * slope * w[0] * w[0]
        if self.spring is not None:
            torques[0] -= joints["plate"]
            torques[1] += joints["plate"]
        for name, source, to, _ in self.gaps:
            torques[source] -= joints[name]
            torques[to] += joints[name] * self.turns[to]
        for index, (first, second, _, _) in enumerate(self.shafts):
            torques[first] -= joints[f"shaft_{index}"]
            torques[second] += joints[f"shaft_{index}"]
        if self.propeller is not None:
            torques[self.propeller] += self.load(w[self.propeller])
        slips = [w[i] - w[0] / self.turns[i] for i in range(1, count)]
        return [
            w[0],
            *slips,
            torques[0] / inertia,
            *(t / j for t, j in zip(torques[1:], self.inertias[1:], strict=True)),
        ]
