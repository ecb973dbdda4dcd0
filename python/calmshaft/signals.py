"""Orders of recorded signals, of a steady run and along a run-up or any other history; cycles by rainflow counting.

    x(th) = mean + sum over p of amplitude_p cos(p th + phase_p)

p counts events per crank turn; th is the crank angle [rad], 0 at the firing top dead centre of cylinder 1. Orders are
multiples of 0.5 for a four-stroke and whole numbers for a two-stroke, up to 24. Measured data will do as well, as a
Dataset with the same names.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft import _core
from calmshaft.cycle_counting import Cycles, rainflow
from calmshaft.order_analysis import (
    HIGHEST_ORDER,
    VIBRATORY_ORDER,
    all_orders,
    carried,
    check_record,
    chosen_orders,
    cycle_spectra,
    cycle_starts,
    cycles_of,
    resampled,
    running_mean,
    slots,
    spectrum,
    vibratory,
)

if TYPE_CHECKING:
    import xarray as xr

__all__ = ["Cycles", "column", "order_tracks", "orders", "rainflow"]


def orders(source: Any, quantity: str, name: str, turns_per_cycle: int | None = None) -> xr.Dataset:
    """Orders of one column of a steady run, exact since the record holds whole cycles.

    source: a Run, or its signals over `crank_angle`. quantity: "speed", "twist" or "torque"; name: the station or
    coupling. turns_per_cycle: 2 for a four-stroke, 1 for a two-stroke; by default the line's own, 2 without a line.

    Returns `amplitude` [unit of the column] and `phase` [rad] over `order`, `mean` and `vibratory`, of the average
    engine cycle. Raises ValueError for an unknown column, a record that is not whole cycles of even steps, and one
    too coarse for order 24.
    """
    import xarray as xr

    signals, turns = _signals(source), _turns(source, turns_per_cycle)
    values = column(signals, quantity, name)
    if values.dims != ("crank_angle",):
        raise ValueError(f"{quantity} runs over {values.dims}, not over crank_angle: use order_tracks for a history")
    angle = signals["crank_angle"].values
    wave = values.values[:-1].reshape(cycles_of(angle, turns), -1).mean(axis=0)
    if wave.size <= 2 * turns * HIGHEST_ORDER:
        raise ValueError(
            f"{wave.size} steps a cycle are too few for order 24: record more than {2 * turns * HIGHEST_ORDER}"
        )
    found = spectrum(wave, turns) * np.exp(-1j * all_orders(turns) * angle[0])
    unit, words = values.attrs.get("units", ""), f"{quantity}, {name}"
    return xr.Dataset(
        {**_amplitudes(found, ("order",), unit, words),
         "mean": ((), wave.mean(), _mean_about(unit, words)),
         "vibratory": ((), vibratory(found, turns), {"units": unit, "long_name": _VIBRATORY})},
        {"order": _order_coordinate(all_orders(turns))},
        {"quantity": quantity, "name": name},
    )  # fmt: skip


def order_tracks(
    source: Any,
    quantity: str,
    name: str,
    orders: Sequence[float] | None = None,
    window_cycles: int = 4,
    turns_per_cycle: int | None = None,
) -> xr.Dataset:
    """Orders of one column along a history, over the mean speed of windows of whole engine cycles.

    source: a History, or its signals over an even `time` [s] with `crank_angle` [rad]. orders: those wanted; by
    default all that the sampling carries at the highest speed (five samples a wave), 24 at most. Windows begin at
    every cycle, so neighbours share all but one.

    Returns `amplitude` [unit of the column] and `phase` [rad] (window, order), `mean` and, where the sampling carries
    order 12, `vibratory` (window,), with coordinates `mean_rpm` [rpm] and `time` [s], middle of the window. Raises
    ValueError for an unknown column or order, a history too short or too coarse, and a crank that turns back.

    How: each cycle is read at even crank angles (polynomial through six samples), the drift of its mean taken out,
    transformed, and the complex orders averaged over the window. An order that is steady over the window comes out
    exactly; one that rises evenly, as in mid-window; a resonance narrower than the speeds that a window spans comes out
    lower and wider. What is not locked to the crank leaks: a vibration d orders beside order p shows there with the
    share |sin(pi d n) / (pi d n)|, n the turns in the window. A longer window separates better, a shorter one follows
    quicker.
    """
    import xarray as xr

    signals, turns = _signals(source), _turns(source, turns_per_cycle)
    values = column(signals, quantity, name)
    if values.dims != ("time",) or "crank_angle" not in signals:
        raise ValueError(f"{quantity} runs over {values.dims}, not over time: use orders for a steady run")
    angle, time = signals["crank_angle"].values, signals["time"].values
    check_record(time, angle, values.values)
    starts = cycle_starts(angle, turns, window_cycles)
    samples = np.diff(np.interp(starts, angle, np.arange(angle.size)))  # in each cycle
    chosen = chosen_orders(orders, turns, samples.min())
    waves = resampled(values.values, angle, starts, samples.max())
    found = running_mean(cycle_spectra(waves, turns), window_cycles)
    begin = np.interp(starts, angle, time)
    duration = begin[window_cycles:] - begin[:-window_cycles]
    unit, words = values.attrs.get("units", ""), f"{quantity}, {name}"
    variables = _amplitudes(found[:, slots(chosen, turns)], ("window", "order"), unit, words)
    variables["mean"] = ("window", running_mean(waves.mean(axis=1), window_cycles), _mean_about(unit, words))
    if carried(samples.min(), turns) >= VIBRATORY_ORDER:
        variables["vibratory"] = ("window", vibratory(found, turns), {"units": unit, "long_name": _VIBRATORY})
    middle = begin[:-window_cycles] + duration / 2
    return xr.Dataset(
        variables,
        {"order": _order_coordinate(chosen),
         "mean_rpm": ("window", 60.0 * turns * window_cycles / duration, _RPM),
         "time": ("window", middle, {"units": "s", "long_name": "middle of the window"})},
        {"quantity": quantity, "name": name, "window_cycles": window_cycles},
    )  # fmt: skip


def column(signals: xr.Dataset, quantity: str, name: str) -> xr.DataArray:
    """One column of recorded signals. Raises ValueError, with near matches, for a name that is not there."""
    known = [str(key) for key in signals.data_vars if {"station", "coupling"} & set(signals[key].dims)]
    _check_name("quantity", quantity, known)
    dim = "station" if "station" in signals[quantity].dims else "coupling"
    _check_name(dim, name, [str(key) for key in signals[dim].values])
    return signals[quantity].sel({dim: name}, drop=True)


_VIBRATORY = "half range of the synthesis of orders 0.5 to 12"
_RPM = {"units": "rpm", "long_name": "mean crank speed of the window"}


def _check_name(kind: str, name: str, known: list[str]) -> None:
    if name not in known:
        near = _core.near_matches(str(name), known) or known
        raise ValueError(f'there is no {kind} "{name}" in these signals: write {" or ".join(near)}')


def _signals(source: Any) -> xr.Dataset:
    signals = getattr(source, "signals", source)
    if signals is None:
        raise ValueError(f"there are no signals: {source.status}, {source.reason}")
    return signals


def _turns(source: Any, turns_per_cycle: int | None) -> int:
    line = getattr(source, "line", None)
    turns = turns_per_cycle or (line.core.engine.strokes // 2 if line is not None else 2)
    if turns not in (1, 2):
        raise ValueError(f"turns_per_cycle is {turns}: write 2 for a four-stroke, 1 for a two-stroke")
    return turns


def _mean_about(unit: str, words: str) -> dict[str, str]:
    return {"units": unit, "long_name": f"mean over crank angle, {words}"}


def _order_coordinate(chosen: np.ndarray) -> tuple[str, np.ndarray, dict[str, str]]:
    return ("order", chosen, {"units": "1", "long_name": "order, events per crank turn"})


def _amplitudes(found: np.ndarray, dims: tuple[str, ...], unit: str, words: str) -> dict[str, Any]:
    return {
        "amplitude": (dims, np.abs(found), {"units": unit, "long_name": f"amplitude by order, {words}"}),
        "phase": (dims, np.angle(found), {"units": "rad", "long_name": f"phase by order, {words}"}),
    }
