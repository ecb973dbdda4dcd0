"""Crank-angle tables of an engine for the independent oracle, from the equations, by its own quadrature.

Equations: slider-crank kinetic energy and single-zone closed cycle with Wiebe heat release (Heywood, Internal
Combustion Engine Fundamentals, ch. 2, 9 and 15; from memory), one polytropic exponent.
"""

from dataclasses import dataclass
from types import SimpleNamespace
from typing import Any

import numpy as np
from scipy.interpolate import CubicSpline

CRANKCASE_PRESSURE = 1.01325e5  # [Pa]
FINE_STEPS = 36_000  # of a single cylinder's cycle: 0.02 degrees
NODES = 2_880  # of the engine's tables: 0.25 degrees


@dataclass(frozen=True)
class EngineTables:
    """Whole-engine values on a uniform crank-angle grid, end point left out."""

    period: float  # [rad] crank angle of one cycle
    inertia: np.ndarray  # [kg m^2] crank, rods, pistons and all that is bolted to the crank
    slope: np.ndarray  # [kg m^2/rad] d inertia / d crank angle
    base: np.ndarray  # [N m] gas torque without fuelling
    fuelled: np.ndarray  # [N m] gas torque that one unit of fuelling factor adds, strengths applied


def described(value: Any) -> Any:
    """Turn nested dicts and lists into objects with attributes; leave everything else as it is."""
    if isinstance(value, dict):
        return SimpleNamespace(**{key: described(item) for key, item in value.items()})
    return [described(item) for item in value] if isinstance(value, list) else value


def slider_crank(engine: Any, angle: np.ndarray) -> SimpleNamespace:
    """Piston height [m], one cylinder's inertia [kg m^2] and their slopes at crank angles [rad]."""
    radius, length = engine.stroke / 2, engine.rod_length
    sine, cosine = np.sin(angle), np.cos(angle)
    sin_rod = radius / length * sine
    cos_rod = np.sqrt(1 - sin_rod**2)
    swing = radius / length * cosine / cos_rod  # d rod angle / d crank angle
    swing_slope = (-sin_rod + swing**2 * sin_rod) / cos_rod
    # position along (x) and across (y) of a rod point at `along` from the big end: two derivatives of each
    along = engine.rod_centre_from_big_end

    def axial(distance: float) -> tuple[np.ndarray, np.ndarray]:
        first = -radius * sine - distance * sin_rod * swing
        second = -radius * cosine - distance * (cos_rod * swing**2 + sin_rod * swing_slope)
        return first, second

    piston, piston_slope = axial(length)
    centre, centre_slope = axial(along)
    side, side_slope = radius * (1 - along / length) * cosine, -radius * (1 - along / length) * sine
    masses = engine.piston_mass, engine.rod_mass, engine.rod_inertia
    inertia = masses[0] * piston**2 + masses[1] * (centre**2 + side**2) + masses[2] * swing**2
    half_slope = (
        masses[0] * piston * piston_slope
        + masses[1] * (centre * centre_slope + side * side_slope)
        + masses[2] * swing * swing_slope
    )
    height = radius * cosine + length * cos_rod
    return SimpleNamespace(height=height, height_slope=piston, inertia=inertia, inertia_slope=2 * half_slope)


def wiebe(combustion: Any, angle: np.ndarray) -> np.ndarray:
    """Burnt fraction at crank angles [rad] after firing top dead centre."""
    share = np.clip((angle - combustion.burn_start) / combustion.burn_duration, 0, None)
    return 1 - np.exp(-combustion.burn_coefficient * share ** (combustion.burn_exponent + 1))


def cylinder_torques(engine: Any) -> tuple[CubicSpline, CubicSpline, CubicSpline]:
    """Periodic torque [N m] of one cylinder over its own angle: open part, trapped charge, one joule of heat.

    Four-stroke. Closed from `inlet_closes` to `exhaust_opens`: d(p V^n) = (n - 1) V^(n-1) dQ, summed with the
    exact increments of the burnt fraction. Then a half cosine to exhaust pressure at bottom dead centre.
    """
    if engine.strokes != 4:
        raise ValueError("the oracle makes tables of four-stroke engines only; pass `tables` for others")
    combustion, exponent = engine.combustion, engine.combustion.polytropic_exponent
    angle = np.linspace(-2 * np.pi, 2 * np.pi, FINE_STEPS + 1)
    crank = slider_crank(engine, angle)
    area = np.pi / 4 * engine.bore**2
    clearance = area * engine.stroke / (engine.compression_ratio - 1)
    volume = clearance + area * (engine.stroke / 2 + engine.rod_length - crank.height)
    start = np.interp(combustion.inlet_closes, angle, volume)
    trapped = combustion.inlet_pressure * (start / volume) ** exponent
    middle_volume = (volume[1:] + volume[:-1]) / 2
    burnt = np.diff(wiebe(combustion, angle))
    heat = np.concatenate([[0], np.cumsum((exponent - 1) * middle_volume ** (exponent - 1) * burnt)]) / volume**exponent
    closing = (angle - combustion.exhaust_opens) / (np.pi - combustion.exhaust_opens)
    closed = np.where(angle < combustion.inlet_closes, 0.0, (1 + np.cos(np.pi * np.clip(closing, 0, 1))) / 2)
    outside = np.where(angle < combustion.inlet_closes, combustion.inlet_pressure, combustion.exhaust_pressure)
    lever = -area * crank.height_slope
    parts = (
        (outside * (1 - closed) - CRANKCASE_PRESSURE) * lever,
        trapped * closed * lever,
        heat * closed * lever,
    )
    for part in parts:
        part[-1] = part[0]
    return tuple(CubicSpline(angle, part, bc_type="periodic") for part in parts)


def friction_torque(engine: Any, speed: float) -> float:
    """Mean friction torque [N m] at a crank speed [rad/s]."""
    friction, piston_speed = engine.friction, engine.stroke * speed / np.pi
    pressure = friction.constant + friction.per_speed * speed + friction.per_piston_speed_squared * piston_speed**2
    displacement = len(engine.firing_angles) * np.pi / 4 * engine.bore**2 * engine.stroke
    return float(pressure * displacement / (np.pi * engine.strokes))


def engine_tables(engine: Any, strengths: list[float], bolted_inertia: float) -> EngineTables:
    """Tables of the whole engine; fuelling 1 gives the healthy engine its rated brake torque."""
    opened, trapped, heat = cylinder_torques(engine)
    angle = np.arange(NODES) * 4 * np.pi / NODES
    phases = [angle - firing for firing in engine.firing_angles]
    cranks = [slider_crank(engine, phase) for phase in phases]
    open_part, trapped_part = sum(map(opened, phases)), sum(map(trapped, phases))
    fired = [heat(phase) for phase in phases]
    needed = engine.rated_torque + friction_torque(engine, engine.rated_speed) - (open_part + trapped_part).mean()
    heat_per_cylinder = needed / sum(fired).mean()
    burnt = sum(strength * heat_per_cylinder * part for strength, part in zip(strengths, fired, strict=True))
    diesel = getattr(engine.fuel, "name", engine.fuel) == "diesel"
    return EngineTables(
        period=4 * np.pi,
        inertia=bolted_inertia + engine.crank_inertia + sum(crank.inertia for crank in cranks),
        slope=sum(crank.inertia_slope for crank in cranks),
        base=open_part + trapped_part if diesel else open_part,
        fuelled=burnt if diesel else trapped_part + burnt,
    )
