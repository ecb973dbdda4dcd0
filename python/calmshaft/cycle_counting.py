"""Which cycles of stress, torque or twist a history holds: rainflow counting, for a sum of damage."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike

from calmshaft import _core


class Cycles(NamedTuple):
    """Counted cycles, one entry each.

    range: peak less valley, mean: half-way between [unit of the values]; count: 1 a whole cycle, 0.5 a half [-].
    """

    range: np.ndarray
    mean: np.ndarray
    count: np.ndarray


def rainflow(values: ArrayLike, periodic: bool = False) -> Cycles:
    """Cycles of a history by the rule of ASTM E1049-85, clause 5.4.4.

    values: (samples,), in time order; their own turning points count, no peak between samples is sought.
    periodic: the history repeats for ever (its end may or may not repeat its start); it is then counted from its
    greatest peak round to the same peak, so every half has its other half.

    Raises ValueError where values are not one row of finite numbers.
    """
    wave = np.asarray(values, dtype=float)
    if wave.ndim != 1:
        raise ValueError(f"values have the shape {wave.shape}: give one row of numbers, in time order")
    if periodic and wave.size and np.isfinite(wave).all():
        top = int(np.argmax(wave))
        wave = np.concatenate([wave[top:], wave[: top + 1]])
    return Cycles(*_core.rainflow(wave))
