"""The propeller shaft of a line as rules see it, and the torque that swings in it."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from itertools import product
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.condition import Condition
from calmshaft.judgement.shafts import PropulsionShaft, solid_shaft_stress
from calmshaft.line import Line
from calmshaft.runs import Run, steady

if TYPE_CHECKING:
    import xarray as xr

RULE = "iacs_ur_m68"  # the section of [shaft] in which the user says that it applies


def shaft_torque(run: Run) -> float:
    """Vibratory torque [N m] in the shaft, the largest of its pieces; NaN without a shaft."""
    from calmshaft import signals  # loads no earlier than needed

    names = [] if run.signals is None else [str(name) for name in run.signals["coupling"].values]
    found = [float(signals.orders(run, "torque", name)["vibratory"]) for name in names if name.startswith("shaft")]
    return max(found, default=math.nan)


def shaft_torque_over(
    line: Line, at: Condition, ds: xr.Dataset, wanted: xr.DataArray, threads: int = 0
) -> xr.DataArray:
    """The same at the `wanted` points of a sweep over rpm and misfiring, which it does not record itself."""
    import xarray as xr

    points = list(product(ds.rpm.values, ds.misfiring.values))
    take = wanted.transpose("rpm", "misfiring").values.ravel()

    def torque(place: int) -> float:
        if not take[place]:
            return math.nan
        rpm, label = points[place]
        return shaft_torque(steady(line, at.with_(rpm=float(rpm), misfiring=str(label))))

    with ThreadPoolExecutor(threads or None) as pool:
        found = np.array(list(pool.map(torque, range(len(points)))))
    about = {"rpm": ds.rpm, "misfiring": ds.misfiring}
    return xr.DataArray(found.reshape(ds.rpm.size, ds.misfiring.size), about, ("rpm", "misfiring"))


def plain_diameter(line: Line) -> float:
    """Diameter [m] of a shaft of one solid piece; NaN of any other, and where there is none."""
    pieces = line.document.get("shaft", {}).get("pieces")
    diameter = line.quantities.get("shaft.diameter")
    return math.nan if pieces or not diameter or diameter.source == "estimated" else diameter.value


def line_stress(line: Line, torque: float | xr.DataArray) -> float | xr.DataArray:
    """Stress [Pa] at the surface of a plain solid shaft under a torque [N m]; NaN of any other shaft."""
    diameter = plain_diameter(line)
    return torque * math.nan if math.isnan(diameter) else solid_shaft_stress(torque, diameter)  # type: ignore[arg-type]


def ruled_shaft(line: Line) -> PropulsionShaft | None:
    """The shaft as [shaft.iacs_ur_m68] has it; None where it is not one plain solid piece."""
    said = line.document.get("shaft", {}).get(RULE, {})
    diameter, strength = plain_diameter(line), line.quantities.get("shaft.ultimate_strength")
    if math.isnan(diameter):
        return None
    material = said.get("material", "a shaft whose material is not said there")
    known = strength.value if strength and strength.source != "estimated" else None
    shape = said.get("shape", "integral flange")
    return PropulsionShaft(material, diameter, shape, known, said.get("applies") is True)


def why_not_ruled(line: Line) -> str:
    """Why the rule does not judge the line's shaft; empty where it does."""
    said, shaft = line.document.get("shaft", {}).get(RULE, {}), ruled_shaft(line)
    if said.get("applies") is not True:
        return "nobody said that IACS UR M68 applies: [shaft.iacs_ur_m68] applies = true does"
    if shaft is None:
        return "the shaft is not one plain solid piece"
    if "shape" not in said:
        return "the shape of its end is not said: [shaft.iacs_ur_m68] shape"
    return shaft.why_not()
