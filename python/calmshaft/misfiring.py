"""The misfiring ladder: every cylinder, one at a time, at falling strength, and what the gear mesh feels of it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from numbers import Real
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.condition import HEALTHY, Condition, line_fault, misfiring_label
from calmshaft.line import Line
from calmshaft.linear.modal import modes
from calmshaft.results import ORDERS, STATUS
from calmshaft.runs import cylinders, fire_evenly, steady
from calmshaft.sweeps import sweep
from calmshaft.wording import listed, number, percent

if TYPE_CHECKING:
    import xarray as xr

FUELLINGS = ("governed", "fixed")
STRENGTHS = (1.0, 0.75, 0.5, 0.25, 0.0)
ALIKE = (
    "They fire evenly and the crank is taken as rigid, so it makes no difference which cylinder it is: worked out once"
)
SLOWER = 0.99  # [-] of the asked speed: below this the speed is said to have fallen
HARDLY_RUNS = 0.8  # [-] of idle speed; ours
BESIDE = 0.25  # [-] from a natural frequency within which it is named as the reason; ours
# By what cylinders are ranked: the first that the line has.
DECIDING = {
    "mesh_torque_vibratory": "vibratory torque in the loaded mesh",
    "plate_torque_ripple": "peak to peak torque through the plate",
    "cyclic_irregularity": "cyclic irregularity",
}


def misfiring_ladder(line: Line, at: Condition, strengths: Sequence[float] = STRENGTHS, threads: int = 0) -> xr.Dataset:
    """Each cylinder alone at each strength [-], with governed and with fixed fuelling, at one condition.

    The misfiring and fuelling of `at` are replaced. Returns the measures of cs.sweep over (fuelling, cylinder,
    strength), of an evenly firing engine worked out for one cylinder; attribute `words` says which is worst and why.
    Raises LineError for strengths outside 0..1, none, or one twice, and where the condition does not fit the line.
    """
    steps = _checked(strengths)
    numbers = range(1, cylinders(line) + 1)
    labels = [[misfiring_label({n: step}) for step in steps] for n in numbers]
    worked_out = labels[:1] * len(labels) if fire_evenly(line) else labels
    every = list(dict.fromkeys([HEALTHY, *(label for row in worked_out for label in row)]))
    swept = sweep(line, {"fuelling": list(FUELLINGS), "misfiring": every}, at.with_(misfiring=HEALTHY), threads=threads)
    ladder = _arranged(swept, worked_out, every, steps).assign_coords(fault=(("cylinder", "strength"), labels))
    healthy = swept.sel(misfiring=HEALTHY)
    ladder.attrs["words"] = "\n".join(_words(line, at, ladder, healthy))
    return ladder


def _checked(strengths: Sequence[float]) -> list[float]:
    steps = [float(step) if isinstance(step, Real) else math.nan for step in strengths]
    advice = "write for instance (1, 0.75, 0.5, 0.25, 0)"
    if not steps or len(set(steps)) < len(steps):
        raise line_fault("strengths", strengths, "needs at least one strength, each once", advice)
    if not all(0.0 <= step <= 1.0 for step in steps):
        raise line_fault("strengths", strengths, "a strength lies between 0 and 1", advice)
    return steps


def _arranged(swept: xr.Dataset, labels: list[list[str]], every: list[str], steps: list[float]) -> xr.Dataset:
    import xarray as xr

    place = xr.DataArray([[every.index(label) for label in row] for row in labels], dims=("cylinder", "strength"))
    ladder = swept.isel(misfiring=place).drop_vars("misfiring")
    about = {"units": "1", "long_name": "strength of the cylinder's combustion"}
    numbers = ("cylinder", np.arange(1, len(labels) + 1), {"units": "1", "long_name": "cylinder"})
    return ladder.assign_coords(cylinder=numbers, strength=("strength", steps, about))


def deciding_measure(ladder: xr.Dataset) -> str:
    """The measure by which cylinders are ranked: of the mesh where it carries load, else of the plate."""
    return next((name for name in DECIDING if np.isfinite(filled(ladder, name)).any()), "mesh_torque_vibratory")


def filled(ladder: xr.Dataset, name: str) -> xr.DataArray:
    """The value, or its mean over cycles where the motion does not repeat."""
    return ladder[name].fillna(ladder[f"{name}_mean"]) if f"{name}_mean" in ladder else ladder[name]


def _words(line: Line, at: Condition, ladder: xr.Dataset, healthy: xr.Dataset) -> list[str]:
    name, said = deciding_measure(ladder), []
    for fuelling in FUELLINGS:
        said += _worst(line, at.with_(fuelling=fuelling), ladder.sel(fuelling=fuelling), healthy.sel(fuelling=fuelling),
                       name)  # fmt: skip
    if fire_evenly(line):
        return [*said, f"{ALIKE}."]
    by_cylinder = filled(ladder, name).max(("fuelling", "strength"))
    order = [str(n) for n in by_cylinder.sortby(by_cylinder, ascending=False).cylinder.values]
    return [*said, f"Cylinders differ here; the worst comes first: {listed(order)}."]


def _worst(line: Line, at: Condition, ladder: xr.Dataset, healthy: xr.Dataset, name: str) -> list[str]:
    """One sentence, and one more where the engine stops."""
    stopped = ladder.fault.values[ladder.status.values >= STATUS.index("stalled")]
    lost = list(dict.fromkeys(fault_words(line, str(label)) for label in stopped))
    said = [f"With {at.fuelling} fuelling the engine does not keep running with {listed(lost)}."] if lost else []
    ranked = filled(ladder, name)
    if not np.isfinite(ranked).any():
        return [*said, f"With {at.fuelling} fuelling nothing can be compared."]
    worst = ladder.isel(ranked.argmax(("cylinder", "strength")))
    unit, what = ladder[name].attrs["units"], DECIDING[name]
    value, well = (f"{number(float(filled(point, name)))} {unit}".replace(" 1", "") for point in (worst, healthy))
    label = str(worst.fault.values)
    if label == HEALTHY:
        text = f"With {at.fuelling} fuelling none is worse than all cylinders firing: {what} {well}"
        rpm = float(worst.mean_rpm)
        other = f"; at the same fuelling the line also has a steady motion at {rpm:.0f} rpm, which is this one"
        return [*said, text + (other if rpm < SLOWER * at.rpm else "") + "."]
    where = fault_words(line, label)
    text = f"With {at.fuelling} fuelling the worst is {where}: {what} {value}, with all cylinders firing {well}"
    return [*said, text + "".join(_reasons(line, at, worst, healthy)) + "."]


def fault_words(line: Line, label: str) -> str:
    """A misfiring label in words: "all cylinders firing", "cylinder 3 dead", "any one cylinder at 50 %"."""
    if label == HEALTHY:
        return "all cylinders firing"
    parts = []
    for part in label.split("+"):
        n, _, strength = part.partition("@")
        single = "any one cylinder" if fire_evenly(line) and "+" not in label else f"cylinder {n}"
        parts.append(f"{single} at {strength.removesuffix('%')} % strength" if strength else f"{single} dead")
    return listed(parts)


def _reasons(line: Line, at: Condition, worst: xr.Dataset, healthy: xr.Dataset) -> list[str]:
    """What stands behind the number: the order that grew most and what it meets, teeth apart, speed and fuel."""
    said, rpm = [], float(worst.mean_rpm)
    found = at.with_(rpm=rpm, fuelling="governed")
    before = _orders(line, at.with_(fuelling="governed"), healthy)
    after = _orders(line, found.with_(misfiring=str(worst.fault.values)), worst)
    growth = after - before
    if np.isfinite(growth).any() and growth.max() > 0:
        place = int(np.argmax(growth))
        low, high = (number(round(float(one[place]), 1)) for one in (before, after))
        said.append(f"; order {ORDERS[place]:g} grew most, from {low} to {high} N m")
        said += _meets(line, found, float(ORDERS[place]))
    if float(worst.mesh_separated_share) > 0:
        said.append(f"; teeth apart {percent(float(worst.mesh_separated_share))} of the time")
    if rpm < SLOWER * at.rpm:
        said.append(f"; the speed falls to {rpm:.0f} rpm")
        if rpm < HARDLY_RUNS * line.quantities["engine.idle_rpm"].value * 30 / math.pi:
            said.append(", far below idle, where an engine hardly keeps running")
    if bool(worst.overfuelled):
        said.append("; the others would need more fuel than at rated torque")
    return said


def _orders(line: Line, at: Condition, point: xr.Dataset) -> np.ndarray:
    """Amplitudes by order [N m] of the torque that ranks the cylinders: of the loaded mesh, in neutral of the plate."""
    if at.gear != "neutral":
        return point.mesh_torque_order.values
    run = steady(line, at)
    if run.signals is None or not line.has_plate:
        return np.full(ORDERS.size, math.nan)
    from calmshaft import signals  # loads no earlier than needed

    return signals.orders(run, "torque", "plate").amplitude.sel(order=ORDERS).values


def _meets(line: Line, at: Condition, order: float) -> list[str]:
    """The natural frequency beside which an order lies, in words; nothing where none is near."""
    frequency = order * at.rpm / 60.0
    found = modes(line, at)
    natural = np.where(found.frequency_hz > 0, found.frequency_hz, math.inf)
    nearest = int(np.argmin(np.abs(natural - frequency)))
    if abs(natural[nearest] - frequency) > BESIDE * natural[nearest]:
        return []
    return [f", as {frequency:.1f} Hz lies beside {natural[nearest]:.1f} Hz, {found.words[nearest]}"]
