"""Two things that must not be mixed up: how exact the sums are, and how well they may foretell the real line."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.condition import Condition
from calmshaft.judgement.comparison import Comparison
from calmshaft.line import Line
from calmshaft.reports.parts import Part, Points, Section, Table, Text, section
from calmshaft.results import MEASURES
from calmshaft.runs import Run, steady
from calmshaft.uncertainties import Swing, Tornado, Uncertainty, tornado, uncertainty
from calmshaft.uncertainties.ranges import IN_SHOP, how_to_measure, uncertain, where_measured
from calmshaft.wording import in_workshop_units, listed, number, percent

if TYPE_CHECKING:
    import xarray as xr

CASES = 100  # drawn: a share comes out to some ten points of a hundred
LOOKED_AT = ("mesh_torque_vibratory", "mesh_separated_share", "plate_twist_max")
_PLACE = re.compile(r"(\w+?)s?\[(\d+)\]")  # of a list in a path
UNITS = {measure.name: measure for measure in MEASURES}


def numerical(found: Comparison, run: Run) -> Section | None:
    """Energy defect, half the step, and motions that never repeat."""
    return section(
        "Numerical error",
        Text("How exactly the equations were solved. It says nothing about whether they describe your line."),
        Points(
            (_energy_words(list(found.datasets.values())), *_halved(run), _status_words(list(found.datasets.values())))
        ),
    )


def _energy_words(datasets: list[xr.Dataset]) -> str:
    worst = max(float(np.nanmax(np.abs(ds["energy_defect"].values))) for ds in datasets)
    points = sum(ds["status"].size for ds in datasets)
    return (
        f"Energy: work of the engine less all that is taken and stored adds up within {100 * worst:.2g} % of it in "
        f"each of the {points} conditions worked out."
    )


def _halved(run: Run) -> list[str]:
    """The same condition at half the step, or why the two cannot be held against each other."""
    if run.signals is None:
        return []
    fine = steady(run.line, run.at, steps_per_cycle=2 * run.steps_per_cycle)
    changes = [_change(run, fine, name) for name in LOOKED_AT if math.isfinite(run.best(name))]
    chance = (
        " The motion never repeats, so part of it is chance between engine cycles." if run.status == "aperiodic" else ""
    )
    return [f"Step: at half the step, {number(run.at.rpm)} rpm {run.at.gear}, {listed(changes)}.{chance}"]


def _change(run: Run, fine: Run, name: str) -> str:
    before, unit = in_workshop_units(UNITS[name], run.best(name))
    after, _ = in_workshop_units(UNITS[name], fine.best(name))
    words = name.replace("_", " ").removesuffix(" max").removesuffix(" share")
    return f"{words} {number(before)} {unit} becomes {number(after)} {unit}"


def _status_words(datasets: list[xr.Dataset]) -> str:
    counted = np.bincount(np.concatenate([ds["status"].values.ravel() for ds in datasets]).clip(0), minlength=5)
    words = (
        "repeat each engine cycle",
        "repeat over several cycles",
        "never repeat exactly and are told by their statistics",
        "stall",
        "have no valid result",
    )
    return f"Of all conditions {listed([f'{n} {text}' for n, text in zip(counted, words, strict=True) if n])}."


def widths(line: Line, at: Condition, threads: int) -> Tornado:
    """What each uncertain value does to what the teeth feel at a condition."""
    return tornado(line, at, threads=threads)


def bands(line: Line, at: Condition, threads: int) -> Uncertainty | None:
    """Plausible cases of the line; None where nothing has a range."""
    return uncertainty(line, at, CASES, threads=threads) if uncertain(line) else None


def prediction(found: Tornado, many: Uncertainty | None, full: bool) -> Section | None:
    """Ranges of the inputs carried through: which one moves the answer, and where plausible cases lie."""
    measure = UNITS[found.measure]
    start, unit = in_workshop_units(measure, found.start)
    unsolved = [one.path for one in found.unsolved()]
    opens = (
        [f"At an end of {listed(unsolved)} there is no result: the line would stall or cannot be."] if unsolved else []
    )
    return section(
        "Accuracy of the prediction",
        Text(
            "How well this may foretell the real line: as well as its inputs are known, and no better. "
            f"As described, {measure.meaning} is {number(start)} {unit} at {number(found.at.rpm)} rpm, {found.at.gear}"
            "; one value at a time at both ends of its range:"
        ),
        Table("", swing_rows(found, 15 if full else 3)),
        Text(" ".join(opens)),
        *(_cases(many, full) if many is not None else ()),
    )


def _cases(many: Uncertainty, full: bool) -> list[Part]:
    """A band for each measure, and how many cases are past a limit."""
    rows = [["what", "as described", "5 % below", "half below", "5 % above", "past its limit"]]
    for name in many.measures if full else [one for one in LOOKED_AT if one in many.measures]:
        band, measure = many.band(name), UNITS[name]
        ends = [in_workshop_units(measure, one) for one in (band.start, band.low, band.median, band.high)]
        unit = ends[0][1].replace("*", " ")
        past = _past(many, name) if name in many.limits else ""
        rows.append([measure.meaning, *(f"{number(one)} {unit}" for one, _ in ends), past])
    lost = sum(many.unsolved().values())
    words = (
        f"All ranges together: {many.cases} plausible cases, half to either side of each value (seed {many.seed})"
        f"{f', {lost} without an answer' if lost else ''}. They tell what the ranges leave open, "
        "not what the model leaves out."
    )
    return [Text(words), Table("", rows)]


def _past(many: Uncertainty, name: str) -> str:
    found = many.past_limit(name)
    low, high = found.interval
    return f"{percent(found.share)} of cases ({percent(low)} to {percent(high)})"


def swing_rows(found: Tornado, most: int) -> list[list[str]]:
    """The widest swings with their sources."""
    measure = UNITS[found.measure]
    _, unit = in_workshop_units(measure, 0.0)
    rows = [["value", "source", f"at its low end [{unit}]", f"at its high end [{unit}]"]]
    for one in found.swings[:most]:
        ends = [number(in_workshop_units(measure, end)[0]) for end in (one.at_low, one.at_high)]
        rows.append([key_words(one.path), one.quantity.source, *ends])
    return rows


def key_words(path: str) -> str:
    """ "propeller.water_inertia" -> "propeller: water inertia"."""
    section_name, _, rest = path.partition(".")
    rest = _PLACE.sub(lambda one: f"{one[1]} {int(one[2]) + 1}", rest.replace("unloaded[", "unloaded pair["))
    return f"{section_name.replace('_', ' ')}: {rest.replace('_', ' ').replace('.', ', ')}" if rest else section_name


def measuring(found: Tornado) -> Section | None:
    """What to measure, the widest first, and what would confirm the whole."""
    ranked = [one for one in found.swings if one.width > 0][:8]
    rows = [["value", "where", "how"]]
    for one in ranked:
        asked = one.path, one.quantity
        rows.append([key_words(one.path), where_measured(*asked), how_to_measure(*asked)])
    confirm = (
        "To confirm the whole: the speeds at which the rattle stops in neutral and ahead, cold and hot; with two "
        "pickups on flywheel and gearbox input the twist of the plate; by a torsiograph the speeds of resonance. "
        "Guards stay on."
    )
    return section("What to measure", Table("In the order in which it narrows the answer", rows), Text(confirm))


def _whose(path: str) -> str:
    """ "propeller.water_inertia" -> "the propeller's water inertia"."""
    return "the " + key_words(path).replace(": ", "'s ", 1)


def _before_assembly(found: Tornado, first: Swing) -> str:
    """Where that cannot be done in the workshop, what can be."""
    where = where_measured(first.path, first.quantity)
    in_shop = found.measure_next(before_assembly=True)
    if where == IN_SHOP:
        return ""
    told = (
        f"the first that can be measured in the workshop is {_whose(in_shop.path)}" if in_shop else "none can be before"
    )
    return f", which can be measured {where}; {told}"


def decided_by(found: Tornado) -> Mapping[str, str]:
    """The question which input, if wrong, changes the picture, and its answer."""
    if not found.swings or not math.isfinite(found.start):
        return {}
    widest = found.swings[0]
    measure = UNITS[found.measure]
    ends = sorted(in_workshop_units(measure, one)[0] for one in (widest.at_low, widest.at_high, found.start))
    _, unit = in_workshop_units(measure, 0.0)
    first = found.measure_next()
    words = (
        f"{_whose(widest.path).capitalize()}: over its range {measure.meaning} goes from {number(ends[0])} to "
        f"{number(ends[-1])} {unit} at {number(found.at.rpm)} rpm."
    )
    if first is not None:
        words += f" Measure first {_whose(first.path)}{_before_assembly(found, first)}."
    return {"Which input, if wrong, changes the answer most?": words}
