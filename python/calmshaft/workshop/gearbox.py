"""A gearbox measured from outside: drag by a cord, moment of inertia by a cord and two weights, backlash by a dial.

Battery isolated, fuel stop held, shaft locked against tide and tow; stand aside of the falling weight.
"""

from __future__ import annotations

from collections.abc import Sequence

from calmshaft.quantity import Quantity
from calmshaft.workshop.ranges import GRAVITY, Reading, need, need_positive, propagate, value_of


def drag(force: Reading, radius: Reading, ratio: Reading = 1.0) -> Quantity:
    """Drag torque at the input [N m] and its range: pull on a cord, slow steady turn [N] x radius of the cord [m].

    ratio: input turns for one turn of the shaft that the cord is on [-]. Equal power: torque there = drag x ratio.
    """
    need_positive(force=force, radius=radius, ratio=ratio)
    return propagate(lambda force, radius, ratio: force * radius / ratio, force, radius, ratio)


def inertia_by_two_weights(
    radius: Reading, fall: Reading, mass_1: Reading, time_1: Reading, mass_2: Reading, time_2: Reading
) -> Quantity:
    """Moment of inertia of all that turns with the input in neutral [kg m^2], and its range.

    A cord on a radius [m], two masses in turn [kg], each let go from rest to fall the same way [m] in a time [s].
    a = 2 h / t^2; J = r^2 [m1 (g - a1) - m2 (g - a2)] / (a1 - a2): the drag drops out where it is the same twice.
    Raises LineError where the heavier mass does not fall clearly faster.
    """
    need_positive(radius=radius, fall=fall, mass_1=mass_1, time_1=time_1, mass_2=mass_2, time_2=time_2)

    def inertia(radius, fall, mass_1, time_1, mass_2, time_2):
        a_1, a_2 = 2 * fall / time_1**2, 2 * fall / time_2**2
        pull = mass_1 * (GRAVITY - a_1) - mass_2 * (GRAVITY - a_2)
        return radius**2 * pull / (a_1 - a_2) if a_1 != a_2 else float("nan")

    found = propagate(inertia, radius, fall, mass_1, time_1, mass_2, time_2)
    clear = found.low > 0 and found.high < float("inf")
    need(clear, "time_1 and time_2", "too near each other", "must tell two falls apart", "take weights further apart")
    return found


def backlash(dial: Reading, gauge_radius: Reading, ratio: Reading = 1.0) -> Quantity:
    """Backlash at the input [rad] and its range, spline play included; the other shaft is held.

    dial: reading from stop to stop [m], gauge_radius: from the axis to the dial [m], ratio: input turns for one turn of
    the shaft that the dial is on [-], 1 where that is the input. angle = dial / radius x ratio.
    """
    need_positive(dial=dial, gauge_radius=gauge_radius, ratio=abs(value_of(ratio)))
    return propagate(lambda dial, radius, ratio: dial / radius * abs(ratio), dial, gauge_radius, ratio)


def without_pairs(inertia: Reading, known: Sequence[Reading], unknown: int = 0) -> Quantity:
    """The input's own moment of inertia [kg m^2] of what two weights find with the pairs that turn along in neutral.

    known: inertias of such pairs [kg m^2]; unknown: how many have none, each taken as 0.2 of the box, 0.04 to 0.5.
    """
    shares = [Quantity(0.2, "estimated", 0.04, 0.5) for _ in range(unknown)]

    def own(total, *rest):
        return (total - sum(rest[: len(known)])) / (1 + sum(rest[len(known) :]))

    found = propagate(own, inertia, *known, *shares)
    rule = "is no more than that of the pairs that turn along in neutral"
    need(found.low > 0, "time_1 and time_2", f"{value_of(inertia):.4g} kg m^2", rule, "measure again; look at both")
    return found
