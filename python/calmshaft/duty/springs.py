"""Stress in each spring of a plate over a recorded twist, beside what coil springs bear for ever.

A spring held squeezed in its window keeps that squeeze when the hub leaves it, so its stress never falls to zero.
Stress with the factor (C + 1/2)/(C - 3/4) of EN 13906-1, which is Bergstraesser's; cycles by rainflow (ASTM E1049-85),
mean stress by Goodman's line through Zimmerli's points. Which springs are shot peened calipers do not say: both ends.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

import numpy as np

from calmshaft.cycle_counting import Cycles
from calmshaft.judgement.fatigue import SpringSteel, spring_steel, stress_cycles
from calmshaft.wording import number
from calmshaft.workshop.plate_twist import SIDES, STEP, PlateSprings, SpringGroup

RUST = (0.4, 0.7)  # [-] of the amplitude that pitted springs still bear; common practice, no source
NOT_ENTERED = "not judged: the plate is given by its stages; enter the springs, [[plate.springs]] by calipers"
NO_MATERIAL = "not judged: write the springs' material, such as chrome-silicon"
BOUND = "coils touch"
FAR = 10.0  # [-] times the stress from which digits say nothing more


@dataclass(frozen=True)
class SpringDuty:
    """Alike springs in one record. Stresses [Pa]: least and greatest, amplitude and mean of the worst cycle.

    strength: tensile, of the new wire [Pa], NaN where its material is not known. safety: against infinite life [-],
    of unpeened and of peened wire (NaN as above): 1 and more bears it for ever. solid_share: of time with its coils
    touching [-]. stress: over the record (samples,) that lasts `duration` [s] and repeats.
    """

    name: str
    count: int
    least: float
    greatest: float
    amplitude: float
    mean: float
    strength: float
    safety: tuple[float, float]
    solid_share: float
    duration: float
    stress: np.ndarray = field(repr=False)

    @property
    def words(self) -> str:
        """Where it stands beside infinite life."""
        if math.isnan(self.strength):
            return NO_MATERIAL
        if self.solid_share > 0:
            return f"over: {BOUND}"
        low, high = self.safety
        word = "within" if low >= 1 else "near" if high >= 1 else "over"
        if low >= FAR:
            return f"{word}: under a tenth of what is borne for ever"
        return f"{word}: for ever up to {number(low)} (unpeened), {number(high)} (peened) times this"


def spring_stress(springs: PlateSprings, group: SpringGroup, twist: np.ndarray) -> np.ndarray:
    """Shear stress [Pa] in one spring of a group over twist [rad]; its preload stays when the hub leaves it."""
    squeezed = np.empty(twist.shape)
    for side, here in zip(SIDES, (twist >= 0, twist < 0), strict=True):
        contact, preload = springs.contact_angle(group, side), group.seat(side).preload
        end = springs.stop(side) if math.isfinite(springs.stop(side)) else max(float(np.abs(twist).max()), contact)
        corners = np.unique(np.clip([contact, contact + STEP * preload / group.pitch_radius, end], 0.0, end))
        reached = [group.squeeze(side, float(corner) - contact) for corner in corners]
        squeezed[here] = np.maximum(np.interp(np.abs(twist[here]), corners, reached), preload)
    return group.spring.shear_stress(1.0) * group.spring.rate * squeezed


def steels(group: SpringGroup) -> tuple[SpringSteel, SpringSteel] | None:
    """Weakest and strongest that the wire may be: unpeened and peened, rusty where the springs are."""
    if group.spring.strength is None:
        return None
    kept = RUST if group.condition == "corroded" else (1.0, 1.0)
    tensile = group.spring.strength.value
    return spring_steel(tensile, False, kept[0]), spring_steel(tensile, True, kept[1])


def spring_duties(springs: PlateSprings, twist: np.ndarray, time: np.ndarray) -> tuple[SpringDuty, ...]:
    """Every group that carries something, over one record that repeats: twist [rad] and time [s] (samples,)."""
    return tuple(_duty(springs, group, twist, time) for group in springs.groups if group.working)


def _duty(springs: PlateSprings, group: SpringGroup, twist: np.ndarray, time: np.ndarray) -> SpringDuty:
    stress = spring_stress(springs, group, twist)
    cycles = stress_cycles(stress)
    pair = steels(group)
    worst = _worst(cycles, pair[0]) if pair else int(np.argmax(cycles.range)) if cycles.range.size else -1
    amplitude, mean = (cycles.range[worst] / 2, cycles.mean[worst]) if worst >= 0 else (0.0, float(stress.mean()))
    return SpringDuty(
        name=group.name, count=group.working, least=float(stress.min()), greatest=float(stress.max()),
        amplitude=float(amplitude), mean=float(mean),
        strength=group.spring.strength.value if group.spring.strength else math.nan,
        safety=tuple(_safety(cycles, steel) for steel in pair) if pair else (math.nan, math.nan),
        solid_share=_solid(springs, group, twist, time), duration=float(time[-1] - time[0]), stress=stress,
    )  # fmt: skip


def _worst(cycles: Cycles, steel: SpringSteel) -> int:
    return int(np.argmin(steel.safety(cycles.range / 2, cycles.mean))) if cycles.range.size else -1


def _safety(cycles: Cycles, steel: SpringSteel) -> float:
    return float(np.min(steel.safety(cycles.range / 2, cycles.mean))) if cycles.range.size else math.inf


def _solid(springs: PlateSprings, group: SpringGroup, twist: np.ndarray, time: np.ndarray) -> float:
    """Share of time [-] beyond where its coils touch."""
    drive, coast = (springs.solid_angle(group, side) for side in SIDES)
    middle = 0.5 * (twist[1:] + twist[:-1])
    lasted = np.diff(time)
    return float(lasted[(middle >= drive) | (middle <= -coast)].sum() / lasted.sum())
