"""Stations and joints of a described line in a condition, its mean loads and a first guess: oracle."""

from typing import Any

import numpy as np
from scipy.optimize import brentq

from independent_chain import Chain, DryFriction, Gap, PlateSpring, PlateStops, chi, name_of
from independent_engine import EngineTables, described, engine_tables, friction_torque


def tooth_gap(contact: Any) -> Gap:
    """Contact of a gear pair."""
    return Gap(contact.backlash / 2, contact.stiffness, chi(contact.restitution, contact.restitution_speed))


def build(line: Any, condition: Any, tables: EngineTables | None = None) -> Chain:
    """Stations and joints of a line in a condition; `tables` replaces the oracle's own engine tables."""
    line, condition = described(line), described(condition)
    gear, box, plate = name_of(condition.gear), line.gearbox, line.plate
    strengths = list(condition.strengths) or [1.0] * len(line.engine.firing_angles)
    bolted = line.flywheel_inertia
    behind = box.input_inertia + plate.hub_inertia
    if plate.rigid:
        bolted += behind
    if tables is None:
        tables = engine_tables(line.engine, strengths, bolted)
    chain = Chain(tables, line.engine, [0.0], [1.0], [0.0], input_station=0)
    if not plate.rigid:
        chain.input_station = add_station(chain, behind, 1.0)
        chain.spring, chain.stops = PlateSpring(plate), PlateStops(plate)
        chain.plate_damping = plate.viscous_damping
        if plate.hysteresis_full_width > 0:
            chain.friction = DryFriction(plate.hysteresis_full_width / 2, plate.presliding_angle)
    chain.drags[chain.input_station] += box.input_drag
    for index, pair in enumerate(box.unloaded):
        if getattr(pair, f"turns_in_{gear}"):
            station = add_station(chain, pair.inertia, 1.0, pair.drag)
            chain.gaps.append((f"unloaded_{index}", chain.input_station, station, tooth_gap(pair.contact)))
    if gear != "neutral":
        add_output(chain, line, gear)
        chain.propeller_law = propeller_law(line, condition)
        chain.extra_damping = line.propeller.extra_damping
    chain.set_mean_speed(condition.speed)
    return chain


def add_station(chain: Chain, inertia: float, turns: float, drag: float = 0.0) -> int:
    """Append a station; return its number."""
    chain.inertias.append(inertia)
    chain.turns.append(turns)
    chain.drags.append(drag)
    return len(chain.turns) - 1


def add_output(chain: Chain, line: Any, gear: str) -> None:
    """Append output wheel, shaft and propeller; shaft damping is 2 zeta sqrt(k J_a J_b / (J_a + J_b))."""
    pair, shaft, propeller = getattr(line.gearbox, gear), line.shaft, line.propeller
    turns = pair.ratio * (-1 if gear == "astern" else 1)
    wet = propeller.inertia + propeller.water_inertia
    ends = pair.output_inertia + shaft.inertia / 2, wet + shaft.inertia / 2
    damping = 2 * shaft.damping_ratio * np.sqrt(shaft.stiffness * ends[0] * ends[1] / sum(ends))
    pieces = shaft.divisions
    share = shaft.inertia / pieces
    station = add_station(chain, pair.output_inertia + share / 2, turns)
    chain.gaps.append(("mesh", chain.input_station, station, tooth_gap(pair.contact)))
    for piece in range(pieces):
        station = add_station(chain, share if piece < pieces - 1 else wet + share / 2, turns)
        chain.shafts.append((station - 1, station, shaft.stiffness * pieces, float(damping) * pieces))
    chain.propeller = station


def propeller_law(line: Any, condition: Any) -> float:
    """Factor k of the square law [N m s^2/rad^2], at the propeller."""
    propeller, box, load = line.propeller, line.gearbox, name_of(condition.load)
    if load == "none":
        return 0.0
    if load == "torque":
        ratio = getattr(box, name_of(condition.gear)).ratio
        return condition.load_torque * ratio / (condition.speed / ratio) ** 2
    drags = box.input_drag + sum(pair.drag for pair in box.unloaded if pair.turns_in_ahead)
    ratio = box.ahead.ratio
    law = (propeller.absorbs_torque - drags) * ratio / (propeller.absorbs_speed / ratio) ** 2
    return law * (propeller.tied_up_factor if load == "tied_up" else 1.0)


def resistance(chain: Chain, speed: float) -> float:
    """Steady resisting torque at the crank [N m], friction of the engine included."""
    torque = friction_torque(chain.engine, speed) + sum(chain.drags)
    if chain.propeller is not None:
        turns = chain.turns[chain.propeller]
        torque += chain.propeller_law * (speed / turns) ** 2 / abs(turns)
    return torque


def resistance_slope(chain: Chain, speed: float) -> float:
    """Slope of all resistances over crank speed [N m s/rad], the propeller's extra damping included."""
    step = 1e-4 * speed
    slope = (resistance(chain, speed + step) - resistance(chain, speed - step)) / (2 * step)
    return slope + chain.extra_slope()


def start_state(chain: Chain, speed: float) -> np.ndarray:
    """All stations at their mean speed, every joint wound up by its mean torque."""
    count = len(chain.turns)
    q = np.zeros(count)
    beyond = sum(chain.drags)
    shaft_torque = 0.0
    if chain.propeller is not None:
        turns = chain.turns[chain.propeller]
        shaft_torque = chain.propeller_law * (speed / turns) ** 2 * np.sign(turns)
        beyond += shaft_torque / turns
    if chain.spring is not None:
        q[1] = -brentq(lambda twist: chain.spring.torque(twist) - beyond, 0, 10)
        if chain.friction is not None:
            chain.friction.anchor = -float(q[1])
    for name, source, to, gap in chain.gaps:
        torque = shaft_torque / chain.turns[to] if name == "mesh" else chain.drags[to]
        q[to] = (q[source] - gap.half - torque / gap.stiffness) / chain.turns[to]
    for first, second, stiffness, _ in chain.shafts:
        q[second] = q[first] - shaft_torque / stiffness
    return np.concatenate([[0.0], q[1:], speed / np.array(chain.turns)])
