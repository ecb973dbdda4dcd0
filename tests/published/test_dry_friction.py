"""Dry friction: decay, forced motion, loops and the friction damper on a shaft."""

import math

import numpy as np
import pytest

from calmshaft import _core
from damped_swings import (
    both_sides,
    imposed,
    released,
    shaken_amplitude,
    turning_points,
    without_give,
    work_of_last_cycle,
)
from published_rows import Tolerance

CLOSED_FORM = "closed form, derived here"
DECAY = "text on Coulomb damping, x1 - x2 = 2 F / k (seen)"
DEN_HARTOG = (
    "Den Hartog, Phil. Mag. S. 7 vol. 9, 1930, p. 801, forced vibrations with friction (rule seen; numbers ours)"
)
TUPLIN = "analysis of a shaft damper, 17 Feb 1941, after Tuplin p. 211 and Den Hartog p. 234 (seen)"
CATALOGUE = "coupling catalogue, damping characteristics, p. 93: M = 2 pi / psi (seen)"
GIVE = 1e-7  # [rad] of the slider, at amplitudes of 1 rad
STIFF = both_sides((0.0, 100.0))  # with 1 kg m^2: 10 rad/s
SLIDER = Tolerance(1e-6, "a slider that gives by 1e-7 at each of the reversals", absolute=True)
EXTRAPOLATED = Tolerance(2e-4, "friction without give extrapolated from 1e-4 and 2.5e-5 of P0 / k")


def test_peaks_drop_by_the_same_angle_each_half_swing(compare):
    motion = released(1.0, 1.45 * math.tau / 10, ramps=STIFF, friction_torque=15.0, presliding_angle=GIVE)
    at, peaks = turning_points(motion)
    for half, expected in enumerate((-0.7, 0.4), start=1):
        compare(f"friction 0.15 k, after {half} half swing(s)", peaks[half], expected, SLIDER, DECAY)
    period = Tolerance(1e-4, "the slider takes up its give at each reversal; time grows with its root")
    compare("friction 0.15 k, period [s]", at[2], math.tau / 10, period, CLOSED_FORM)


def test_the_disc_sticks_where_the_spring_cannot_overcome_friction(compare):
    end = released(1.0, 3 * math.tau / 10, 3000, ramps=STIFF, friction_torque=15.0, presliding_angle=1e-5)
    last = end["angle"][0][end["time"] > 2 * math.tau / 10]
    source = "student problem on a phase plane, F = 0.15 K q0 (data seen; answer ours)"
    compare(
        "friction 0.15 k, rests at",
        last.mean(),
        -0.1,
        Tolerance(1e-4, "a give of 1e-5, absolute", absolute=True),
        source,
    )
    assert np.ptp(last) < 1e-4


def test_viscous_and_dry_friction_together(compare):
    # peak_(n+1) = peak_n e^-d - f (1 + e^-d), d = pi zeta / sqrt(1 - zeta^2); zeta 0.02, f 0.05
    expected = (0.8421350847, 0.6938857904, 0.5546664255, 0.4239269729, 0.3011509175, 0.1858532053, 0.0775783272)
    damper = {"friction_torque": 5.0, "presliding_angle": GIVE, "damping": 2 * 0.02 * 10}
    _, peaks = turning_points(released(1.0, 3.6 * math.tau / 10, 4000, ramps=STIFF, **damper))
    for half, value in enumerate(expected, start=1):
        name = f"zeta 0.02 and friction 0.05 k, after {half} half swing(s)"
        compare(name, abs(peaks[half]), value, SLIDER, "recursion over half swings, closed form")


@pytest.mark.parametrize(
    ("ratio", "friction", "expected"),
    [
        (0.8, 0.1, 2.76133667),
        (0.8, 0.3, 2.62610488),
        (1.2, 0.1, 2.25134751),
        (1.2, 0.3, 2.07238427),
        (1.5, 0.1, 0.79162281),
        (1.5, 0.3, 0.72111026),
    ],
)
def test_forced_motion_with_dry_friction_alone(ratio, friction, expected, compare):
    # sqrt(V^2 - (F / P0)^2 U^2), V = 1 / (1 - r^2), U = tan(pi / (2 r)) / r, while the disc never stops for long
    ours = without_give(lambda give: shaken_amplitude(ratio, friction, 0.0, give), 1e-4)
    compare(f"forced, w/wn {ratio:g}, F/P0 {friction:g}", ours, expected, EXTRAPOLATED, DEN_HARTOG)


@pytest.mark.parametrize(
    ("ratio", "friction", "damping", "expected"),
    [
        (1.0, 0.3, 0.1, 3.08785748),
        (0.8, 0.3, 0.1, 2.03392227),
        (1.2, 0.3, 0.1, 1.48968286),
        (1.0, 0.5, 0.05, 3.63138582),
        (2.0, 0.2, 0.1, 0.30416516),
    ],
)
def test_forced_motion_with_dry_and_viscous_friction(ratio, friction, damping, expected, compare):
    ours = without_give(lambda give: shaken_amplitude(ratio, friction, damping, give), 1e-4)
    name = f"forced, w/wn {ratio:g}, F/P0 {friction:g}, zeta {damping:g}"
    compare(name, ours, expected, EXTRAPOLATED, "half-swing boundary values, closed form, after Den Hartog's of 1930")


def test_friction_loop_and_its_equivalent_damping(compare):
    # half width 25 N m, amplitude 0.02 rad, 100 rad/s: area 4 H A, damping 4 H / (pi w A)
    phase = np.arange(200_001) * 2 * math.tau / 200_000  # the first turn starts from rest
    twist = 0.02 * np.sin(phase)
    torque, last = _core.dry_friction_torque(25.0, 1e-8, twist), slice(100_000, None)
    area = np.sum(0.5 * (torque[last][1:] + torque[last][:-1]) * np.diff(twist[last]))
    rigid = Tolerance(3e-5, "4 H (A - presliding), and steps of 1e-5 turn across the reversals")
    compare("friction loop, 25 N m, 0.02 rad [J]", area, 2.0, rigid, CLOSED_FORM)
    in_phase_with_speed = 2 * np.mean(torque[last][:-1] * np.cos(phase[last][:-1]))
    compare(
        "friction loop, damping at 100 rad/s [N m s/rad]",
        in_phase_with_speed / (0.02 * 100),
        15.9154943,
        rigid,
        CLOSED_FORM,
    )


@pytest.mark.parametrize("share", [0.2, 0.3, math.sqrt(2) / math.pi])
def test_a_friction_damper_on_a_shaft(share, compare):
    # energy a cycle 4 T a sqrt(1 - (pi T / (2 J w^2 a))^2), T = share * J w^2 a, over J w^2 a^2
    ring, frequency, amplitude = 0.05, 100.0, 0.01
    unit = ring * frequency**2 * amplitude

    def energy(give):
        damper = {"friction_torque": share * unit, "presliding_angle": give}
        return work_of_last_cycle(imposed(amplitude, frequency, 40, ring, **damper), frequency) / (unit * amplitude)

    expected = 4 * share * math.sqrt(1 - (math.pi * share / 2) ** 2)
    kept = Tolerance(3e-3, "friction without give extrapolated from 1e-6 and 2.5e-7 rad")
    ours = without_give(energy, 1e-6)
    compare(f"friction damper, T / (J w^2 a) {share:.4g}", ours, expected, kept, TUPLIN)
    if share > 0.45:
        compare("friction damper, greatest energy / (J w^2 a^2), printed", ours, 1.273, kept, TUPLIN)


@pytest.mark.parametrize("magnifier", [15, 10, 8, 6, 4])
def test_relative_damping_of_a_viscous_element(magnifier, compare):
    # psi = work of a cycle / elastic energy 1/2 k A^2 = 2 pi / M, M = k / (c w)
    k, frequency, amplitude = 5000.0, 60.0, 0.02
    motion = imposed(amplitude, frequency, 2, ramps=both_sides((0.0, k)), damping=k / (magnifier * frequency))
    psi = work_of_last_cycle(motion, frequency) / (0.5 * k * amplitude**2)
    kept = Tolerance(1e-6, "work read between two steps")
    compare(f"relative damping of magnifier {magnifier}", psi, 2 * math.pi / magnifier, kept, CATALOGUE)
