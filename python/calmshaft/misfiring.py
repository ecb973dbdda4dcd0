"""The misfiring ladder: every cylinder, one at a time, at falling strength, and what the gear mesh feels of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.condition import Condition, line_fault, misfiring_label
from calmshaft.line import Line
from calmshaft.results import STATUS
from calmshaft.runs import cylinders
from calmshaft.sweeps import sweep
from calmshaft.wording import listed, number, percent

if TYPE_CHECKING:
    import xarray as xr

FUELLINGS = ("governed", "fixed")
ALIKE = "inline, even firing, rigid crank: it does not matter which single cylinder is dead"
CHANCE = 0.02  # [-] of the largest value: what cycles that do not repeat leave between cylinders that are alike
SLOWER = 0.99  # [-] of the asked speed: below this the speed is said to have fallen


def misfiring_ladder(
    line: Line, at: Condition, strengths: Sequence[float] = (1.0, 0.75, 0.5, 0.25, 0.0), threads: int = 0
) -> xr.Dataset:
    """Each cylinder alone at each strength [-], with governed and with fixed fuelling, at one condition.

    The misfiring and fuelling of `at` are replaced. Returns the measures of cs.sweep over (fuelling, cylinder,
    strength); attribute `words` says which is worst and why, in sentences. Raises LineError for strengths outside
    0..1, none, or one twice, and where the condition does not fit the line.
    """
    steps = _checked(strengths)
    labels = [[misfiring_label({n: step}) for step in steps] for n in range(1, cylinders(line) + 1)]
    every = list(dict.fromkeys(["none", *(label for row in labels for label in row)]))
    swept = sweep(line, {"fuelling": list(FUELLINGS), "misfiring": every}, at.with_(misfiring="none"), threads=threads)
    ladder = _arranged(swept, labels, every, steps)
    ladder.attrs["words"] = "\n".join(_words(line, at, ladder, swept.sel(misfiring="none")))
    return ladder


def cylinders_alike(line: Line) -> bool:
    """Whether cylinders are in line, fire evenly and sit on a rigid crank: any one of them dead is then the same."""
    if line.document.get("engine", {}).get("layout") == "vee" or any(mass.cylinder for mass in _masses(line)):
        return False
    angles = np.sort(np.asarray(line.core.engine.firing_angles))
    cycle = math.pi * line.core.engine.strokes
    gaps = np.diff([*angles, angles[0] + cycle])
    return bool(np.allclose(gaps, cycle / angles.size, rtol=0, atol=1e-9))


def _masses(line: Line) -> list:
    table = getattr(line.core, "mass_elastic", None) or getattr(line.core, "table", None)
    return list(table.masses) if table else []


def _checked(strengths: Sequence[float]) -> list[float]:
    steps = [float(step) for step in strengths]
    advice = "write for instance (1, 0.75, 0.5, 0.25, 0)"
    if not steps or len(set(steps)) < len(steps):
        raise line_fault("strengths", strengths, "needs at least one strength, each once", advice)
    if not all(0.0 <= step <= 1.0 for step in steps):
        raise line_fault("strengths", strengths, "a strength lies between 0 and 1", advice)
    return steps


def _arranged(swept: xr.Dataset, labels: list[list[str]], every: list[str], steps: list[float]) -> xr.Dataset:
    import xarray as xr

    place = xr.DataArray([[every.index(label) for label in row] for row in labels], dims=("cylinder", "strength"))
    ladder = swept.isel(misfiring=place).rename(misfiring="condition")
    about = {"units": "1", "long_name": "strength of the cylinder's combustion"}
    numbers = ("cylinder", np.arange(1, len(labels) + 1), {"units": "1", "long_name": "cylinder"})
    return ladder.assign_coords(cylinder=numbers, strength=("strength", steps, about))


def deciding_measure(ladder: xr.Dataset) -> tuple[str, str]:
    """The measure by which cylinders are ranked and its words: of the mesh where it carries load, else of the plate."""
    for name, words in (
        ("mesh_torque_vibratory", "vibratory torque in the loaded mesh"),
        ("plate_torque_ripple", "peak to peak torque through the plate"),
        ("cyclic_irregularity", "cyclic irregularity"),
    ):
        if np.isfinite(_filled(ladder, name)).any():
            return name, words
    return "mesh_torque_vibratory", "vibratory torque in the loaded mesh"


def _filled(ladder: xr.Dataset, name: str) -> xr.DataArray:
    """The value, or its mean over cycles where the motion does not repeat."""
    return ladder[name].fillna(ladder[f"{name}_mean"]) if f"{name}_mean" in ladder else ladder[name]


def _words(line: Line, at: Condition, ladder: xr.Dataset, healthy: xr.Dataset) -> list[str]:
    name, what = deciding_measure(ladder)
    ranked, unit = _filled(ladder, name), ladder[name].attrs["units"]
    said = []
    for fuelling in FUELLINGS:
        said += _worst(at, ladder.sel(fuelling=fuelling), ranked.sel(fuelling=fuelling),
                       healthy.sel(fuelling=fuelling), name, what, unit)  # fmt: skip
    if cylinders_alike(line):
        said.append(ALIKE[0].upper() + ALIKE[1:] + "." + _spread(ladder, ranked))
    else:
        by_cylinder = ranked.max(("fuelling", "strength"))
        order = [str(n) for n in by_cylinder.sortby(by_cylinder, ascending=False).cylinder.values]
        said.append(f"Cylinders differ here; the worst comes first: {listed(order)}.")
    return said


def _worst(at: Condition, ladder: xr.Dataset, ranked: xr.DataArray, healthy: xr.Dataset, name: str, what: str,
           unit: str) -> list[str]:  # fmt: skip
    fuelling = str(ladder.fuelling.values)
    lost = [str(label) for label in np.unique(ladder.condition.values[ladder.status.values >= STATUS.index("stalled")])]
    said = [f"With {fuelling} fuelling the engine does not keep running with {listed(lost)}."] if lost else []
    if not np.isfinite(ranked).any():
        return [*said, f"With {fuelling} fuelling nothing can be compared."]
    place = ranked.argmax(("cylinder", "strength"))
    worst, value, well = ladder.isel(place), float(ranked.isel(place)), float(_filled(healthy, name))
    where = "with all cylinders well" if worst.condition == "none" else f"with {_fault_words(worst)}"
    text = f"With {fuelling} fuelling the worst is {where}: {what} {number(value)} {unit}"
    return [*said, f"{text}, healthy {number(well)} {unit}" + "".join(_reasons(at, worst, healthy)) + "."]


def _fault_words(point: xr.Dataset) -> str:
    strength = float(point.strength)
    how = "dead" if strength == 0 else f"at {percent(strength)} strength"
    return f"cylinder {int(point.cylinder)} {how}"


def _reasons(at: Condition, worst: xr.Dataset, healthy: xr.Dataset) -> list[str]:
    """What stands behind the number: the order that grew most, teeth apart, speed and fuel."""
    said = []
    growth = worst.mesh_torque_order - healthy.mesh_torque_order
    if np.isfinite(growth).any() and float(growth.max()) > 0:
        order = growth.argmax("order")
        low, high = (float(one.mesh_torque_order.isel(order=order)) for one in (healthy, worst))
        said.append(f"; order {float(growth.order.isel(order=order)):g} grew most, {number(low)} to {number(high)} N m")
    if float(worst.mesh_separated_share) > 0:
        said.append(f"; teeth apart {percent(float(worst.mesh_separated_share))} of the time")
    if float(worst.mean_rpm) < SLOWER * at.rpm:
        said.append(f"; the speed falls to {float(worst.mean_rpm):.0f} rpm")
    if bool(worst.overfuelled):
        said.append("; more fuel than the engine is rated for")
    return said


def _spread(ladder: xr.Dataset, ranked: xr.DataArray) -> str:
    """How far cylinders that ought to be alike came out apart, as the second look at that sentence."""
    apart = (ranked.max("cylinder") - ranked.min("cylinder")) / ranked.max("cylinder")
    widest = float(apart.max())
    if not math.isfinite(widest) or widest == 0.0:
        return ""
    chance = " where the motion does not repeat" if widest > CHANCE else ""
    return f" Worked out one by one they differ by at most {percent(widest)}{chance}."
