"""A gearbox measured from outside: drag by a cord, moment of inertia by a cord and two weights, backlash by a dial.

Battery isolated, fuel stop held, shaft locked against tide and tow; stand aside of the falling weight.
"""

from __future__ import annotations

from calmshaft.quantity import Quantity
from calmshaft.workshop.ranges import GRAVITY, Reading, need, need_positive, propagate


def drag(force: Reading, radius: Reading) -> Quantity:
    """Drag torque at the input [N m] and its range: pull on a cord, slow steady turn [N] x radius of the cord [m]."""
    need_positive(force=force, radius=radius)
    return propagate(lambda force, radius: force * radius, force, radius)


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


def backlash(dial: Reading, gauge_radius: Reading, ratio: float = 1.0) -> Quantity:
    """Backlash at the input [rad] and its range, spline play included; the input is held.

    dial: reading at the output flange from stop to stop [m], gauge_radius: from the axis to the dial [m],
    ratio: input turns for one output turn [-]. angle = dial / radius x ratio.
    """
    need_positive(dial=dial, gauge_radius=gauge_radius, ratio=abs(ratio))
    return propagate(lambda dial, radius: dial / radius * abs(ratio), dial, gauge_radius)
