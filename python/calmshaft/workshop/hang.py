"""Moments of inertia by the clock: a part on three wires, a rod on a knife edge.

Rated lifting tackle, never stand under the part; test the wires with twice its weight.
"""

from __future__ import annotations

import math

from calmshaft.quantity import Quantity
from calmshaft.workshop.ranges import GRAVITY, Reading, need, need_positive, propagate, value_of

REACTION = 0.2  # [s] start and stop of a hand-held watch together; common practice, no source


def swing_time(total_time: float, swings: int, error: float = REACTION) -> Quantity:
    """Time of one full swing, there and back [s], from the time of many [s] and the error of the watch [s]."""
    need_positive(total_time=total_time, swings=swings)
    return propagate(
        lambda total: total / swings, Quantity(total_time, "measured", total_time - error, total_time + error)
    )


def trifilar(
    mass: Reading,
    wire_radius: Reading,
    wire_length: Reading,
    period: Reading,
    table_mass: Reading = 0.0,
    table_inertia: Reading = 0.0,
) -> Quantity:
    """Moment of inertia of a part that twists on three equal upright wires [kg m^2], and its range.

    mass of the part [kg]; wire_radius from the axis to each wire [m]; wire_length [m]; period of one full swing [s];
    table_mass [kg] and table_inertia [kg m^2] of a board that it lies on. J = (m + m_t) g R^2 t^2 / (4 pi^2 l) - J_t,
    small swings (10 deg at most), axis of the part midway between the wires. Raises LineError.
    """
    need_positive(mass=mass, wire_radius=wire_radius, wire_length=wire_length, period=period)

    def inertia(mass, radius, length, period, board, board_inertia):
        return (mass + board) * GRAVITY * radius**2 * period**2 / (4 * math.pi**2 * length) - board_inertia

    return _positive(propagate(inertia, mass, wire_radius, wire_length, period, table_mass, table_inertia), "period")


def rod_by_scales(length: Reading, big_end: Reading, small_end: Reading) -> tuple[Quantity, Quantity]:
    """Mass of a rod [kg] and its centre from the big end's axis [m], each with its range.

    length between the axes [m]; reading of a scale under each end in turn, rod level [kg]. b = L small / (big + small).
    """
    need_positive(length=length, big_end=big_end, small_end=small_end)
    mass = propagate(lambda big, small: big + small, big_end, small_end)
    return mass, propagate(lambda long, big, small: long * small / (big + small), length, big_end, small_end)


def rod_swing(mass: Reading, edge_to_centre: Reading, period: Reading) -> Quantity:
    """Moment of inertia of a rod about its centre of mass [kg m^2], and its range.

    It swings on a knife edge in the small end: mass [kg], edge_to_centre from the edge to the centre of mass [m],
    period of one full swing [s]. J = m g a t^2 / (4 pi^2) - m a^2, small swings. Raises LineError where the swing is
    quicker than that of a point mass at the centre, 2 pi sqrt(a / g).
    """
    need_positive(mass=mass, edge_to_centre=edge_to_centre, period=period)

    def inertia(mass, edge, period):
        return mass * edge * (GRAVITY * period**2 / (4 * math.pi**2) - edge)

    return _positive(propagate(inertia, mass, edge_to_centre, period), "period", period)


def _positive(found: Quantity, name: str, reading: Reading = math.nan) -> Quantity:
    shown = "too short" if math.isnan(value_of(reading)) else f"{value_of(reading):.4g} s"
    need(found.value > 0, name, shown, "gives an inertia of nothing", "time one full swing, there and back")
    return found
