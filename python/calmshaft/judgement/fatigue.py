"""Damage that stress does to a part over time, and to coil springs in particular.

Stress history -> rainflow cycles -> Goodman: each cycle's amplitude as it would count without mean stress
-> life curve -> Miner's sum. Stresses in Pa. A study aid: springs break at pits, dents and clamped ends first.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import ArrayLike

from calmshaft.cycle_counting import Cycles, rainflow
from calmshaft.judgement.sources import FROM_MEMORY, SEEN, Constant, Source, positive, require

_ZIMMERLI = Source("Zimmerli 1957, as quoted by textbooks of machine design", "infinite-life points", SEEN)
_PRACTICE = Source("common practice, no source", text=FROM_MEMORY)

# Shear stress amplitude and mean that coil springs bore for ever, wire up to about 10 mm, whatever its steel.
# Range: 10 % either way, value from memory.
UNPEENED_AMPLITUDE = Constant(241e6, 217e6, 265e6, "Pa", _ZIMMERLI)
UNPEENED_MEAN = Constant(379e6, 341e6, 417e6, "Pa", _ZIMMERLI)
PEENED_AMPLITUDE = Constant(398e6, 358e6, 438e6, "Pa", _ZIMMERLI)
PEENED_MEAN = Constant(534e6, 481e6, 587e6, "Pa", _ZIMMERLI)
SHEAR_OVER_TENSILE = Constant(0.67, 0.60, 0.72, "", Source("textbooks of machine design", "springs"))
SLOPE = Constant(10.0, 8.0, 12.0, "", _PRACTICE)  # of life over amplitude above the knee
KNEE = Constant(1e7, 2e6, 5e7, "cycles", _PRACTICE)  # life at which the infinite-life point is reached
FAILURE_SUM = Constant(1.0, 0.3, 1.0, "", Source("Miner's rule; cautious users take 0.3 to 0.5"))


def basquin_life(amplitude: ArrayLike, strength: float, exponent: float) -> np.ndarray:
    """Cycles to failure N = (s_a / s_f')^(1/b) / 2 (Basquin), infinite where there is no amplitude.

    amplitude, strength s_f' [Pa or any one unit]; exponent b [-] below zero, of reversals 2 N. Raises LineError.
    """
    require(
        positive("strength", strength, "Pa", "the fatigue strength coefficient"),
        (-1 < exponent < 0, "exponent", exponent, "lies between -1 and 0", "write for instance -0.1"),
    )
    with np.errstate(divide="ignore"):
        return 0.5 * (np.abs(np.asarray(amplitude, float)) / strength) ** (1 / exponent)


def miner_sum(counts: ArrayLike, lives: ArrayLike) -> float:
    """Sum of n / N [-] (Palmgren, Miner); the order of cycles does not matter."""
    return float(np.sum(np.asarray(counts, float) / np.asarray(lives, float)))


def wahl_factor(index: float) -> float:
    """K = (4C - 1) / (4C - 4) + 0.615 / C, the curvature and shear factor of a coil; index C = D / d above 1 [-]."""
    require((1 < index < np.inf, "index", index, "must be more than 1", "write mean coil diameter over wire diameter"))
    return (4 * index - 1) / (4 * index - 4) + 0.615 / index


def spring_shear_stress(force: ArrayLike, wire_diameter: float, coil_diameter: float) -> np.ndarray:
    """tau = K 8 F D / (pi d^3) [Pa] of a round-wire coil spring; force [N], wire and mean coil diameter [m]."""
    require(
        positive("wire_diameter", wire_diameter, "m", "0.004 for 4 mm"),
        positive("coil_diameter", coil_diameter, "m", "0.026 for 26 mm, from wire middle to wire middle"),
    )
    factor = wahl_factor(coil_diameter / wire_diameter)
    return factor * 8 * np.asarray(force, float) * coil_diameter / (np.pi * wire_diameter**3)


@dataclass(frozen=True, slots=True)
class SpringSteel:
    """What a spring's wire stands in shear.

    shear_strength S_su, amplitude S_sa and mean S_sm of the infinite-life point [Pa]; slope k [-] and knee [cycles]
    of the life curve; failure_sum: Miner's sum at which it breaks [-]; see spring_steel for how to make one.
    """

    shear_strength: float
    amplitude: float
    mean: float
    slope: float = SLOPE.value
    knee: float = KNEE.value
    failure_sum: float = FAILURE_SUM.value

    def __post_init__(self) -> None:
        require(
            positive("shear_strength", self.shear_strength, "Pa", "0.67 times the wire's tensile strength"),
            positive("amplitude", self.amplitude, "Pa", "241e6 unpeened or 398e6 peened"),
            (0 <= self.mean < self.shear_strength, "mean", self.mean, "lies from 0 to shear_strength", "write 379e6"),
            (1 < self.slope < np.inf, "slope", self.slope, "must be more than 1", "write 8 to 12"),
            positive("knee", self.knee, "cycles", "1e7"),
            positive("failure_sum", self.failure_sum, "", "1"),
        )

    @property
    def reversed_amplitude(self) -> float:
        """S_se = S_sa / (1 - S_sm / S_su): Goodman's line through the point, at no mean stress [Pa]."""
        return self.amplitude / (1 - self.mean / self.shear_strength)

    def safety(self, amplitude: float, mean: float) -> float:
        """n = 1 / (t_a / S_se + t_m / S_su) [-] against infinite life; textbooks ask for 1.2 and more."""
        return 1 / (amplitude / self.reversed_amplitude + mean / self.shear_strength)

    def equivalent_amplitude(self, cycles: Cycles) -> np.ndarray:
        """t_a / (1 - t_m / S_su) [Pa], infinite from a peak of S_su on; a mean below zero is taken as zero."""
        amplitude, mean = cycles.range / 2, np.maximum(cycles.mean, 0.0)
        room = 1 - mean / self.shear_strength
        broken = np.abs(cycles.mean) + amplitude >= self.shear_strength
        return np.where(broken, np.inf, amplitude / np.where(broken, 1.0, room))

    def life(self, cycles: Cycles) -> np.ndarray:
        """N = knee (t_eq / S_se)^-k [cycles]; below S_se with 2 k - 1 in place of k, since worn wire has no rest."""
        over = self.equivalent_amplitude(cycles) / self.reversed_amplitude
        with np.errstate(divide="ignore"):
            return self.knee * over ** -np.where(over > 1, self.slope, 2 * self.slope - 1)

    def damage(self, cycles: Cycles) -> float:
        """Miner's sum over its value at failure [-]: 1 is the end, infinite where a peak reaches S_su."""
        with np.errstate(divide="ignore"):
            return miner_sum(cycles.count, self.life(cycles)) / self.failure_sum


def spring_steel(tensile_strength: float, peened: bool = False, kept: float = 1.0) -> SpringSteel:
    """Wire of a tensile strength [Pa] with the infinite-life point of plain or shot peened springs.

    kept: share of the amplitude that is left [-]; 1 for clean springs, 0.4 to 0.7 where rust has pitted them (common
    practice, no source). Raises LineError.
    """
    require(
        positive("tensile_strength", tensile_strength, "Pa", "1750e6, from the wire's certificate or table"),
        (0 < kept <= 1, "kept", kept, "lies above 0 and up to 1", "write 1 for clean springs, 0.4 to 0.7 with rust"),
    )
    amplitude, mean = (PEENED_AMPLITUDE, PEENED_MEAN) if peened else (UNPEENED_AMPLITUDE, UNPEENED_MEAN)
    return SpringSteel(SHEAR_OVER_TENSILE.value * tensile_strength, kept * amplitude.value, mean.value)


def extremes_of(steel: SpringSteel) -> tuple[SpringSteel, ...]:
    """The same wire at both ends of the ranges of amplitude (10 %), slope, knee and failure sum: 16 of them."""
    tenth = UNPEENED_AMPLITUDE.high / UNPEENED_AMPLITUDE.value - 1
    return tuple(
        replace(steel, amplitude=steel.amplitude * (1 + side * tenth), slope=slope, knee=knee, failure_sum=sums)
        for side in (-1, 1)
        for slope in (SLOPE.low, SLOPE.high)
        for knee in (KNEE.low, KNEE.high)
        for sums in (FAILURE_SUM.low, FAILURE_SUM.high)
    )


def stress_cycles(stress: ArrayLike, periodic: bool = True) -> Cycles:
    """Rainflow cycles of a stress history [Pa]; periodic where it is one period that repeats."""
    return rainflow(stress, periodic)
