"""The questions that every report answers in words."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.condition import HEALTHY
from calmshaft.judgement.comparison import RPM, Comparison, Verdict
from calmshaft.judgement.rules import SEPARATED_LIMIT
from calmshaft.line import Line
from calmshaft.wording import number, percent

if TYPE_CHECKING:
    import xarray as xr


PLATE = {
    "stop of the plate": "Does the plate reach its stop?",
    "torque stated for the plate": "Is there more torque than the plate's maker states?",
}


@dataclass(frozen=True, slots=True)
class Answer:
    """One question of the builder's and its answer."""

    question: str
    answer: str


def answers(line: Line, found: Comparison) -> list[Answer]:
    """Does the mesh reverse and where does that stop; stop and springs; a dead cylinder; more idle speed; neutral."""
    made = []
    ahead, neutral = (_running(line, found.datasets.get((line.title, gear))) for gear in ("ahead", "neutral"))
    if ahead is not None:
        healthy = ahead["mesh_separated_share"].sel(misfiring=HEALTHY)
        dead = ahead["mesh_separated_share"].drop_sel(misfiring=HEALTHY).max("misfiring", skipna=False)
        made.append(Answer("Do the gear teeth part when all cylinders fire?", _parts(healthy)))
        made.append(Answer("And with one cylinder dead?", _parts(dead)))
        made += [
            Answer(PLATE.get(one.subject, f"{one.subject.capitalize()}?"), _plate(one)) for one in _of_plate(found)
        ]
        made.append(Answer("What does 100 rpm more idle speed do?", _more_idle(line, healthy)))
    if neutral is not None:
        share = neutral["unloaded_mesh_separated_share"].sel(misfiring=HEALTHY)
        made.append(Answer("Does the free pair rattle in neutral, and where does it stop?", _parts(share)))
    return made


def _running(line: Line, ds: xr.Dataset | None) -> xr.Dataset | None:
    """From idle on: below it the line is drawn, not judged."""
    return None if ds is None else ds.sel(rpm=ds.rpm >= line.quantities["engine.idle_rpm"].value / RPM - 0.5)


def _of_plate(found: Comparison) -> list[Verdict]:
    """Of each respect of the plate the verdict nearest to its limit; one that is open before all."""
    worst: dict[str, Verdict] = {}
    for one in found.verdicts:
        if one.subject.endswith("plate") and _share(one) >= _share(worst.get(one.subject)):
            worst[one.subject] = one
    return list(worst.values())


def _share(one: Verdict | None) -> float:
    """Value over limit [-]."""
    if one is None:
        return -math.inf
    return math.inf if one.word == "not judged" else one.value / one.limit


def _plate(one: Verdict) -> str:
    if one.word == "not judged":
        return f"Not judged: {one.finding}."
    where = f"{one.gear}, {one.cylinders}"
    return f"{one.word.capitalize()}: at most {one.finding}, {where}."


def _parts(share: xr.DataArray) -> str:
    """Where teeth part, and the speed from which they stay together for good."""
    rpm, apart = share.rpm.values, share.values
    if np.isnan(apart).any():
        return f"Not judged: no valid result at {number(float(rpm[np.isnan(apart)][0]))} rpm."
    parted = apart > SEPARATED_LIMIT
    if not parted.any():
        return f"No: they stay in contact from {number(float(rpm[0]))} to {number(float(rpm[-1]))} rpm."
    worst = int(np.argmax(apart))
    most = f"for up to {percent(float(apart[worst]))} of the time, at {number(float(rpm[worst]))} rpm"
    last = int(np.flatnonzero(parted)[-1])
    if last == rpm.size - 1:
        return f"Yes, {most}, and still at {number(float(rpm[-1]))} rpm."
    return f"Yes, {most}; from {number(float(rpm[last + 1]))} rpm on they stay in contact (calculated)."


def _more_idle(line: Line, share: xr.DataArray) -> str:
    idle = line.quantities["engine.idle_rpm"].value / RPM
    now, then = (float(share.interp(rpm=speed)) for speed in (idle, idle + 100.0))
    if not (math.isfinite(now) and math.isfinite(then)):
        return "Not judged: a point beside it has no valid result."
    words = (
        f"The loaded teeth are apart {percent(now)} of the time at idle, {percent(then)} at {number(idle + 100.0)} rpm."
    )
    limit = line.quantities.get("engine.max_shift_rpm")
    if limit and idle + 100.0 > limit.value / RPM:
        words += " That is above the speed at which the gearbox may be shifted, so it is not a remedy."
    return words
