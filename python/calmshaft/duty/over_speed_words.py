"""A plate over speed in rows and sentences: what it carries beside what it may, stop hits, coil bind, warming."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.judgement.entered import ENTERED, allowed_words, limit_over
from calmshaft.judgement.over_speed import RPM
from calmshaft.judgement.verdicts import against
from calmshaft.line import Line
from calmshaft.misfiring import fault_words
from calmshaft.wording import listed, number, percent

if TYPE_CHECKING:
    import xarray as xr

# quantity in words, variable, unit as shown, key of [limits]
_CAPACITY = (
    ("nominal torque T_N, the mean", "torque_mean", "N m", "plate_mean_torque"),
    ("alternating torque T_W, half range", "torque_alternating", "N m", "plate_alternating_torque"),
    ("the same for a limit at 10 Hz", "torque_alternating_ten_hertz", "N m", ""),
    ("greatest torque T_max", "torque_greatest", "N m", "plate_greatest_torque"),
    ("heat P_W", "heat_power", "W", "plate_heat"),
)
HEAVY = "Speeds that ask for more fuel than at rated torque are left out: none can hold them"


def capacity_rows(line: Line, ds: xr.Dataset) -> list[list[str]]:
    """The quantities of DIN 740-2: the greatest of each over speed beside the maker's limit, under a heading."""
    labels = [str(label) for label in ds.misfiring.values]
    heads = [f"{fault_words(line, label)}, at rpm" for label in labels]
    rows = [["quantity by DIN 740-2", *heads, "limit", "judgement"]]
    for words, name, unit, key in _CAPACITY:
        found = [_greatest(ds.sel(misfiring=label), name) for label in labels]
        cells = [f"{number(value)} {unit}, {number(rpm)}" if math.isfinite(value) else "-" for value, rpm in found]
        rows.append([words, *cells, *(_beside(line, ds, name, key) if key else ["", ""])])
    return rows


def _beside(line: Line, ds: xr.Dataset, name: str, key: str) -> list[str]:
    """The limit with its document where it is nearest, and the word."""
    entered = line.limits.get(key)
    if entered is None:
        return ["", "not judged: no limit is entered"]
    one, limits = ENTERED[key], limit_over(entered, ds.rpm.values)
    share = np.where(ds.overfuelled, math.nan, np.abs(ds[name].values) / limits)
    if not np.nanmax(share, initial=0.0) > 0:
        return [f"({entered.document})", "not judged: none of these speeds has a value beside it"]
    band = entered.at_speed(float(ds.rpm.values[int(np.nanargmax(share)) % limits.size]) * RPM)
    assert band is not None  # a share has a limit
    shown = f"{allowed_words(one, band.value)} ({band.document})"
    return [shown, against(float(np.nanmax(share)), 1.0)]


def _greatest(one: xr.Dataset, name: str) -> tuple[float, float]:
    """By size, and its speed [rpm], of speeds that the engine can hold; NaN where there is none."""
    value = np.where(one.overfuelled, math.nan, one[name].values)
    if not np.isfinite(value).any():
        return math.nan, math.nan
    place = int(np.nanargmax(np.abs(value)))
    return float(value[place]), float(one.rpm[place])


def sentences(line: Line, ds: xr.Dataset) -> Iterator[str]:
    """Travel, stop hits, coil bind and warming with each fault; each without its full stop."""
    for label in map(str, ds.misfiring.values):
        one = ds.sel(misfiring=label)
        parts = [_travel(one), _bind(one), _warming(one)]
        yield f"With {fault_words(line, label)}: {'; '.join(part for part in parts if part)}"
    if bool(ds.overfuelled.any()):
        yield HEAVY


def _travel(one: xr.Dataset) -> str:
    used, rpm = _greatest(one, "travel_used")
    if not math.isfinite(used):
        return "the stop is not known"
    held = ~one.overfuelled
    hits = [(str(side), one.stop_hits.sel(side=side).where(held)) for side in one.side.values]
    struck = [f"in {side} up to {number(float(each.max()))} times a cycle, {_between(one, each.values > 0)}"
              for side, each in hits if float(each.max()) > 0]  # fmt: skip
    if struck:
        return f"the stop is hit {listed(struck)}"
    return f"at most {percent(used)} of the travel to the stop, at {number(rpm)} rpm, and the stop is never hit"


def _between(one: xr.Dataset, where: np.ndarray) -> str:
    speeds = one.rpm.values[where]
    return (
        f"from {number(speeds.min())} to {number(speeds.max())} rpm"
        if speeds.size > 1
        else f"at {number(speeds[0])} rpm"
    )


def _bind(one: xr.Dataset) -> str:
    share, rpm = _greatest(one, "solid_share")
    if not math.isfinite(share):
        return ""
    return f"coils touch for up to {percent(share)} of the time, at {number(rpm)} rpm" if share else "no coils touch"


def _warming(one: xr.Dataset) -> str:
    middle, rpm = _greatest(one, "warming")
    if not math.isfinite(middle):
        return ""
    here = one.sel(rpm=rpm)
    low, high = (number(float(f"{float(here[f'warming_{end}']):.1g}")) for end in ("low", "high"))
    return f"its heat warms it by {low} to {high} K at most, at {number(rpm)} rpm (estimate)"
