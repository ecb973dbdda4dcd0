"""The propeller shaft of a line as rules see it, and the torque that swings in it."""

from __future__ import annotations

import math
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.condition import Condition
from calmshaft.judgement.shafts import PropulsionShaft, solid_shaft_stress
from calmshaft.line import Line
from calmshaft.linear.forced import response_of
from calmshaft.linear.orders import VIBRATORY_UP_TO
from calmshaft.linear.views import linear_view
from calmshaft.results import ORDERS
from calmshaft.runs import Run, steady

if TYPE_CHECKING:
    import xarray as xr

SLACK = 1.05  # [-] for the propeller's square law and motions that never repeat: exact was 0.99 of the sum at most
BATCH = 4  # points worked out before it is asked again whether others can matter
RULE = "iacs_ur_m68"  # the section of [shaft] in which the user says that it applies


def shaft_torque(run: Run) -> float:
    """Vibratory torque [N m] in the shaft, the largest of its pieces; NaN without a shaft."""
    from calmshaft import signals  # loads no earlier than needed

    names = [] if run.signals is None else [str(name) for name in run.signals["coupling"].values]
    found = [float(signals.orders(run, "torque", name)["vibratory"]) for name in names if name.startswith("shaft")]
    return max(found, default=math.nan)


class ShaftOverSpeed:
    """The same over a sweep in rpm and misfiring, which does not record it: worked out where it decides, bounded above
    elsewhere.

    What lies behind the loaded mesh is linear but for the propeller's square law, so each order of the mesh's torque
    reaches the shaft by a factor of the linear view; no synthesis is more than the sum of its amplitudes.
    """

    def __init__(self, line: Line, at: Condition, ds: xr.Dataset, wanted: xr.DataArray, threads: int = 0):
        self._line, self._at, self._threads = line, at, threads
        self._rpm, self._labels = ds.rpm, ds.misfiring
        self._wanted = wanted.transpose("rpm", "misfiring").values
        self._known: dict[tuple[int, int], float] = {}
        amplitudes = ds["mesh_torque_order"].transpose("rpm", "misfiring", "order").values
        used = ORDERS <= VIBRATORY_UP_TO
        factors = np.array([_mesh_to_shaft(line, at.with_(rpm=float(rpm))) for rpm in ds.rpm.values])
        self._bound = SLACK * (factors[:, None, :] * amplitudes)[..., used].sum(axis=-1)

    def beside(self, limit: xr.DataArray | float) -> xr.DataArray:
        """Vibratory torque [N m] (rpm, misfiring), NaN where not wanted, beside a limit [N m] (rpm,) or for all speeds.

        Exact wherever it is over its limit, and of each misfiring where it is greatest beside it; else at most this.
        """
        import xarray as xr

        limits = np.broadcast_to(np.asarray(limit, float), self._rpm.shape)
        found = np.where(self._wanted, self._bound, math.nan)
        if np.isnan(found).all():  # the line has no shaft
            return xr.DataArray(found, {"rpm": self._rpm, "misfiring": self._labels}, ("rpm", "misfiring"))
        with ThreadPoolExecutor(self._threads or None) as pool:
            for column in range(self._labels.size):
                self._decide(found[:, column], limits, column, pool)
        return xr.DataArray(found, {"rpm": self._rpm, "misfiring": self._labels}, ("rpm", "misfiring"))

    def _decide(self, found: np.ndarray, limits: np.ndarray, column: int, pool: ThreadPoolExecutor) -> None:
        """From the highest bound on, until nothing that is left can be over or greater than what was found."""
        share = np.nan_to_num(found / limits, nan=math.inf)
        asked = self._wanted[:, column] & np.isfinite(limits)
        order = [row for row in np.argsort(-share, kind="stable") if asked[row]]
        most = 0.0
        for first in range(0, len(order), BATCH):
            rows = [row for row in order[first : first + BATCH] if not share[row] < min(most, 1.0)]
            if not rows:
                return
            found[rows] = list(pool.map(partial(self._exact, column=column), rows))
            most = max(most, float(np.nanmax(np.append(found[rows] / limits[rows], 0.0))))

    def _exact(self, row: int, column: int) -> float:
        place = (int(row), column)
        if place not in self._known:
            rpm, label = float(self._rpm[row]), str(self._labels.values[column])
            self._known[place] = shaft_torque(steady(self._line, self._at.with_(rpm=rpm, misfiring=label)))
        return self._known[place]


def _mesh_to_shaft(line: Line, at: Condition) -> np.ndarray:
    """Torque in the shaft over that in the loaded mesh by order [-] (order,), the largest of its pieces."""
    view = linear_view(line, at)
    pieces = [place for place, name in enumerate(view.joints) if name.startswith("shaft")]
    applied = np.zeros((ORDERS.size, len(view.stations)), complex)
    applied[:, 0] = 1.0
    torque = np.abs(response_of(view, ORDERS * at.rpm * math.tau / 60, applied).torque)
    return torque[:, pieces].max(axis=1) / torque[:, view.joints.index("loaded mesh")] if pieces else ORDERS * math.nan


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
