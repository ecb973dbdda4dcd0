"""The arithmetic of orders: whole cycles, values between samples, transforms, synthesis. Plain arrays, no names.

`turns` is crank turns an engine cycle: 2 for a four-stroke, 1 for a two-stroke. Crank angles are in [rad].
"""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

HIGHEST_ORDER = 24
VIBRATORY_ORDER = 12  # vibratory torque: half range of the synthesis of orders 0.5 to 12
SAMPLES_PER_WAVE = 5  # with fewer, values between samples are off by more than 2 % in the worst place
_SYNTHESIS_NODES = 4096  # a cycle; the peak of order 12 between two nodes is then missed by under 0.1 %
_SLACK = 1e-6  # of a cycle: crank angle is a sum of steps


def all_orders(turns: int) -> np.ndarray:
    """Every order up to 24, lowest first."""
    return np.arange(1, turns * HIGHEST_ORDER + 1) / turns


def slots(chosen: np.ndarray, turns: int) -> np.ndarray:
    """Where orders stand in a spectrum."""
    return np.rint(chosen * turns).astype(int) - 1


def cycles_of(angle: np.ndarray, turns: int) -> int:
    """Whole cycles in an even record whose last sample is the first one of the next cycle."""
    cycles = (angle[-1] - angle[0]) / (turns * math.tau) if angle.size > 1 else 0.0
    steps = np.diff(angle)
    if round(cycles) < 1 or abs(cycles - round(cycles)) > _SLACK or (angle.size - 1) % round(cycles):
        raise ValueError(
            f"the record holds {cycles:.4g} cycles of {turns} turns: give whole cycles with their closing sample"
            + (", or turns_per_cycle=1 for a two-stroke" if turns == 2 else "")
        )
    if np.ptp(steps) > _SLACK * turns * math.tau:
        raise ValueError("the steps of crank_angle differ: resample to even crank angles first")
    return round(cycles)


def check_record(time: np.ndarray, angle: np.ndarray, values: np.ndarray) -> None:
    for bad, words in ((~np.isfinite(angle) | ~np.isfinite(values), "is not a number"),
                       (np.diff(angle, prepend=-np.inf) <= 0, "stands or turns back in its crank angle")):  # fmt: skip
        if bad.any():
            raise ValueError(f"the history {words} at {time[bad.argmax()]:.4g} s: cut it with .sel(time=slice(...))")


def cycle_starts(angle: np.ndarray, turns: int, window_cycles: int) -> np.ndarray:
    """Crank angles [rad] where whole cycles begin and, last, where the last one ends."""
    cycle = turns * math.tau
    first, last = math.ceil(angle[0] / cycle - _SLACK), math.floor(angle[-1] / cycle + _SLACK)
    if window_cycles < 1 or window_cycles != int(window_cycles):
        raise ValueError(f"window_cycles is {window_cycles}: write a whole number from 1 on")
    if last - first < window_cycles:
        raise ValueError(
            f"the history holds {max(0, last - first)} whole engine cycles, the window needs {window_cycles}: "
            "record longer or write fewer window_cycles"
        )
    return np.arange(first, last + 1) * cycle


def carried(samples_per_cycle: float, turns: int) -> float:
    """The highest order that the sampling carries."""
    return min(HIGHEST_ORDER, math.floor(samples_per_cycle / SAMPLES_PER_WAVE + 1e-9) / turns)


def chosen_orders(wanted: Sequence[float] | None, turns: int, samples_per_cycle: float) -> np.ndarray:
    highest = carried(samples_per_cycle, turns)
    known = all_orders(turns)
    chosen = known[known <= highest] if wanted is None else np.atleast_1d(np.asarray(wanted, dtype=float))
    strange = [order for order in chosen if order not in known]
    if strange:
        raise ValueError(f"order {strange[0]:g} is none of {known[0]:g}, {known[1]:g}, ... {HIGHEST_ORDER}")
    if chosen.size == 0 or chosen.max() > highest:
        raise ValueError(
            f"the history has {samples_per_cycle / turns:.4g} samples a turn at its highest speed, which carries "
            f"orders up to {highest:g}: record it finer or ask for lower orders"
        )
    return chosen


def resampled(values: np.ndarray, angle: np.ndarray, starts: np.ndarray, most_samples: float) -> np.ndarray:
    """The column at even crank angles, as finely as the slowest cycle was recorded; (cycle, node)."""
    nodes = 1 << max(8, math.ceil(math.log2(most_samples)))
    grid = starts[:-1, None] + np.arange(nodes) / nodes * (starts[1] - starts[0])
    return _between(values, np.interp(grid, angle, np.arange(angle.size)))


def _between(values: np.ndarray, place: np.ndarray) -> np.ndarray:
    """Values at places between samples [samples], by the polynomial through the six nearest (Lagrange)."""
    left = np.clip(np.floor(place).astype(int) - 2, 0, values.size - 6)
    offset = place - left
    result = np.zeros_like(place)
    for node in range(6):
        others = [other for other in range(6) if other != node]
        weight = math.prod((offset - other) / (node - other) for other in others)
        result += weight * values[left + node]
    return result


def cycle_spectra(waves: np.ndarray, turns: int) -> np.ndarray:
    """Complex orders of each cycle (cycle, order), freed of the drift of the mean, which would pass for low orders."""
    means = waves.mean(axis=1)
    drift = np.gradient(means) if means.size > 1 else np.zeros(1)
    within = (np.arange(waves.shape[1]) + 0.5) / waves.shape[1] - 0.5
    return spectrum(waves - drift[:, None] * within, turns)


def spectrum(wave: np.ndarray, turns: int) -> np.ndarray:
    """c_p = 2/N sum of x e^(-i p th), of whole cycles along the last axis."""
    return 2.0 / wave.shape[-1] * np.fft.rfft(wave)[..., 1 : turns * HIGHEST_ORDER + 1]


def running_mean(values: np.ndarray, count: int) -> np.ndarray:
    """Means of `count` neighbours along the first axis."""
    return np.lib.stride_tricks.sliding_window_view(values, count, axis=0).mean(axis=-1)


def vibratory(found: np.ndarray, turns: int) -> np.ndarray:
    highest = turns * VIBRATORY_ORDER
    padded = np.zeros((*found.shape[:-1], _SYNTHESIS_NODES // 2 + 1), dtype=complex)
    padded[..., 1 : highest + 1] = found[..., :highest] * (_SYNTHESIS_NODES / 2)
    return np.ptp(np.fft.irfft(padded), axis=-1) / 2
