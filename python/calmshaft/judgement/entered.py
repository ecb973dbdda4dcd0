"""The limits of a line file: each against what a run or a sweep gives, with the document that the user named."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calmshaft import units
from calmshaft.judgement.line_shaft import line_stress, shaft_torque
from calmshaft.judgement.verdicts import Judgement, against, worst
from calmshaft.line import Line
from calmshaft.quantity import Band, Quantity
from calmshaft.runs import Run
from calmshaft.wording import listed, number, percent

if TYPE_CHECKING:
    import xarray as xr


@dataclass(frozen=True, slots=True)
class Entered:
    """What one key of [limits] limits: its words, the unit it is shown in, and how it is had from a measure.

    how: "as it is", "size of the mean", "half range" of a ripple, "greatest" of either direction; "mean and vibratory"
    torque of the mesh, or that "over rated torque" of the gearbox; "shaft torque" or "shaft stress", from signals.
    """

    subject: str
    meaning: str
    kind: str
    unit: str
    how: str
    measure: str = ""

    @property
    def shown_unit(self) -> str:
        """The unit as people read it."""
        return self.unit.replace("*", " ")


_RPM = math.pi / 30.0  # [rad/s]
_VIBRATORY = "half range of the synthesis of orders 0.5 to 12"
_MESH = "in the loaded mesh at its input side"

# fmt: off
ENTERED = {
    "gearbox_vibratory_torque":
        Entered("gearbox vibratory torque", f"{_MESH}, {_VIBRATORY}", "torque", "N*m",
                "as it is", "mesh_torque_vibratory"),
    "gearbox_mean_and_vibratory_torque":
        Entered("gearbox mean and vibratory torque", f"{_MESH}, the mean and the {_VIBRATORY} together", "torque",
                "N*m", "mean and vibratory"),
    "gearbox_greatest_torque":
        Entered("gearbox greatest torque", f"{_MESH}, either direction", "torque", "N*m", "greatest", "mesh_torque"),
    "application_factor":
        Entered("application factor", "K_A: mean and vibratory torque of the loaded mesh over gearbox.rated_torque",
                "pure", "", "over rated torque"),
    "unloaded_pair_alternating_torque":
        Entered("unloaded pair alternating torque", "half range, the largest of all unloaded pairs", "torque", "N*m",
                "half range", "unloaded_mesh_torque_ripple"),
    "plate_mean_torque":
        Entered("plate mean torque", "over crank angle through the plate (DIN 740-2: nominal torque T_KN)", "torque",
                "N*m", "size of the mean", "plate_torque_mean"),
    "plate_alternating_torque":
        Entered("plate alternating torque", "half range through the plate (DIN 740-2: T_KW, there at 10 Hz)", "torque",
                "N*m", "half range", "plate_torque_ripple"),
    "plate_greatest_torque":
        Entered("plate greatest torque", "through the plate, either direction (DIN 740-2: T_Kmax)", "torque", "N*m",
                "greatest", "plate_torque"),
    "plate_twist":
        Entered("plate twist", "from the middle of its free play, either direction", "angle", "deg",
                "greatest", "plate_twist"),
    "plate_heat":
        Entered("plate heat", "by friction, damping and stops together (DIN 740-2: P_KW)", "power", "W",
                "as it is", "plate_heat_power"),
    "shaft_vibratory_torque":
        Entered("shaft vibratory torque", f"in the propeller shaft, {_VIBRATORY}", "torque", "N*m", "shaft torque"),
    "shaft_vibratory_stress":
        Entered("shaft vibratory stress", f"at the surface of the plain solid shaft, {_VIBRATORY}", "stress", "MPa",
                "shaft stress"),
    "cyclic_irregularity":
        Entered("cyclic irregularity", "greatest less least flywheel speed over its mean", "pure", "",
                "as it is", "cyclic_irregularity"),
}
# fmt: on


def value_in_run(one: Entered, run: Run) -> float:
    """What a run gives for it [SI], of the worst cycle where the motion does not repeat; NaN if none."""
    if one.how == "greatest":
        high, low = (worst(run, f"{one.measure}_{end}", f"{far}_cycle") for end, far in _ENDS)
        return max(high, -low)
    if one.how.startswith("shaft"):
        return stress_of(one, run.line, shaft_torque(run))
    if one.measure:
        return _of_measure(one, worst(run, one.measure, "highest_cycle"))
    return _together(one, run.line, run.measures["mesh_torque_mean"], run.measures["mesh_torque_vibratory"])


def value_in_sweep(one: Entered, line: Line, ds: xr.Dataset, shaft: xr.DataArray | float = math.nan) -> xr.DataArray:
    """The same over a sweep; shaft: vibratory torque in the shaft [N m], which a sweep itself does not give."""
    if one.how == "greatest":
        high, low = (worst_in_sweep(ds, f"{one.measure}_{end}", f"{far}_cycle") for end, far in _ENDS)
        return np.maximum(high, -low)  # NaN where either is
    if one.how.startswith("shaft"):
        return stress_of(one, line, ds["mesh_torque_mean"] * 0 + shaft)
    if one.measure:
        return _of_measure(one, worst_in_sweep(ds, one.measure, "highest_cycle"))
    return _together(one, line, ds["mesh_torque_mean"], ds["mesh_torque_vibratory"])


_ENDS = (("max", "highest"), ("min", "lowest"))


def worst_in_sweep(ds: xr.Dataset, name: str, cycle: str) -> xr.DataArray:
    """A measure of every point, of the worst cycle where the motion does not repeat."""
    return ds[name].fillna(ds[f"{name}_{cycle}"]) if f"{name}_{cycle}" in ds else ds[name]


def _of_measure(one: Entered, value):  # a number, or an array of them
    return 0.5 * value if one.how == "half range" else abs(value) if one.how == "size of the mean" else value


def _together(one: Entered, line: Line, mean, vibratory):
    """Astern and coasting the mean is negative: its size counts. NaN where the rated torque is only an estimate."""
    rated = line.quantities.get("gearbox.rated_torque")
    if one.how != "over rated torque":
        return abs(mean) + vibratory
    known = rated.value if rated and rated.source != "estimated" else math.nan
    return (abs(mean) + vibratory) / known


def stress_of(one: Entered, line: Line, torque):
    """The stress [Pa] under a torque [N m] in the shaft where the limit is one of stress, else that torque."""
    return torque if one.how == "shaft torque" else line_stress(line, torque)


def judge_entered(line: Line, run: Run) -> tuple[Judgement, ...]:
    """Every limit that the line file holds, in the order of ENTERED; none where it holds none."""
    return tuple(_judged(ENTERED[key], line.limits[key], run) for key in ENTERED if key in line.limits)


def _judged(one: Entered, limit: Quantity, run: Run) -> Judgement:
    unit, neutral, here = one.shown_unit, run.at.gear == "neutral", limit.at_speed(run.at.rpm * _RPM)
    if here is None:
        why = f"it belongs to other speeds, {speeds_words(limit)}"
        return Judgement(one.subject, "not judged", why, unit=unit, matters=False, document=limit.document or "")
    document = here.document
    value, allowed = (units.express(amount, one.unit, one.kind) for amount in (value_in_run(one, run), here.value))
    if not math.isfinite(value):
        why = f"{'in neutral' if neutral else why_missing(one)} there is none to hold against it ({document})"
        return Judgement(one.subject, "not judged", why, unit=unit, matters=not neutral, document=document)
    word = against(value, allowed)
    left = f"{percent(1 - value / allowed)} left" if value < allowed else f"{percent(value / allowed - 1)} over"
    numbers = f"{number(value)} {unit}".rstrip() + f" beside a limit of {number(allowed)} {unit}".rstrip()
    return Judgement(one.subject, word, f"{numbers}, {left} ({document})", value, allowed, unit, document=document)


def speeds_words(limit: Quantity) -> str:
    """ "up to 1,200 rpm and from 1,500 to 2,600 rpm", ranges that meet as one; nothing for a limit at every speed."""
    ranges: list[Band] = []
    for band in limit.bands:
        meets = ranges and band.low - ranges[-1].high <= _RPM
        ranges[-1:] = [ranges[-1]._replace(high=band.high)] if meets else [*ranges[-1:], band]
    return listed([band_words(band) for band in ranges])


def band_words(band: Band) -> str:
    """ "up to 1,200 rpm"; nothing where it holds at every speed."""
    low, high = number(band.low / _RPM), number(band.high / _RPM)
    if band.high == math.inf:
        return f"from {low} rpm on" if band.low else ""
    return f"up to {high} rpm" if band.low == 0 else f"from {low} to {high} rpm"


def allowed_words(one: Entered, value: float) -> str:
    """A limit [SI] with the unit that it is shown in."""
    return f"{number(units.express(value, one.unit, one.kind))} {one.shown_unit}".rstrip()


def limit_over(limit: Quantity, rpm: np.ndarray) -> np.ndarray:
    """The limit [SI] at every speed [rpm], infinite at those that it does not belong to."""
    here = [limit.at_speed(float(one) * _RPM) for one in rpm]
    return np.array([math.inf if band is None else band.value for band in here])


def why_missing(one: Entered) -> str:
    """Where a value may be missing although the line runs in gear, as the head of a sentence."""
    if one.how == "over rated torque":
        return "without the gearbox maker's rated_torque"
    return "with a shaft that is not one plain solid piece" if one.how == "shaft stress" else "in this run"


def limit_rows(line: Line) -> list[list[str]]:
    """Rows under a heading: the entered limits as the line file means them."""
    rows = [["limit", "value", "document", "of what"]]
    for key, limit in line.limits.items():
        one = ENTERED[key]
        for band in limit.everywhere:
            of = ", ".join(filter(None, (one.meaning, band_words(band))))
            rows.append([one.subject, allowed_words(one, band.value), band.document, of])
    return rows
