"""What a question about plausible cases asks for, checked as a whole: measures, limits, how many cases and how."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from typing import Any

from calmshaft import _core, units
from calmshaft.condition import Condition, line_fault
from calmshaft.faults import line_error
from calmshaft.judgement.rules import SEPARATED_LIMIT
from calmshaft.line import Line
from calmshaft.results import MEASURES, Measure
from calmshaft.uncertainties.cases import check_measure
from calmshaft.uncertainties.draws import METHODS

Limit = str | float
FEWEST, MOST = 20, 100_000  # cases: a twentieth of fewer is not one case; more would take hours for nothing
_KINDS = {"N m": "torque", "rad": "angle", "W": "power", "1": "pure"}
_IN_GEAR = ("mesh_torque_vibratory", "mesh_separated_share", "mesh_torque_min", "plate_torque_max", "plate_twist_max",
            "cyclic_irregularity")  # fmt: skip
_NEUTRAL = ("unloaded_mesh_torque_ripple", "unloaded_mesh_separated_share", "plate_torque_max", "plate_twist_max",
            "cyclic_irregularity")  # fmt: skip
_PLATE_TORQUE = {"plate_torque_max": 1.0, "plate_torque_min": -1.0}
# Limits of the line file: the measures that they hold, and times what. Alternating torque is half of the ripple; a
# limit either way holds the least value too, as much below zero.
_ENTERED = {
    "gearbox_vibratory_torque": {"mesh_torque_vibratory": 1.0},
    "gearbox_greatest_torque": {"mesh_torque_max": 1.0, "mesh_torque_min": -1.0},
    "unloaded_pair_alternating_torque": {"unloaded_mesh_torque_ripple": 2.0},
    "plate_alternating_torque": {"plate_torque_ripple": 2.0},
    "plate_greatest_torque": _PLATE_TORQUE,
    "plate_twist": {"plate_twist_max": 1.0, "plate_twist_min": -1.0},
    "plate_heat": {"plate_heat_power": 1.0},
    "cyclic_irregularity": {"cyclic_irregularity": 1.0},
}


def measure_named(name: str) -> Measure:
    """The measure of that name."""
    return next(measure for measure in MEASURES if measure.name == name)


def usual_measures(at: Condition) -> tuple[str, ...]:
    """What a builder asks first: what the loaded teeth feel, in neutral the free ones, then the plate."""
    return _NEUTRAL if at.gear == "neutral" else _IN_GEAR


def usual_limits(line: Line, at: Condition) -> dict[str, float]:
    """Teeth that part (common practice, no source), the plate's stop and stated torque, the line's [limits] [SI]."""
    teeth = "unloaded_mesh_separated_share" if at.gear == "neutral" else "mesh_separated_share"
    limits = {teeth: SEPARATED_LIMIT} | ({"plate_stop_share": 0.0} if line.has_plate else {})
    here = {key: limit.at_speed(at.rpm * math.tau / 60) for key, limit in line.limits.items() if key in _ENTERED}
    held = [(_ENTERED[key], band.value) for key, band in here.items() if band]
    if line.core.plate.rated_torque is not None:
        held.append((_PLATE_TORQUE, line.core.plate.rated_torque))
    for measures, value in held:
        for measure, times in measures.items():  # of two on one measure the narrower one counts
            limits[measure] = min(limits.get(measure, times * value), times * value, key=abs)
    return limits


def limit_of(measure: str, limit: Limit) -> float:
    """A limit as written, in SI. Raises LineError where it is no value of the measure's kind."""
    unit = measure_named(check_measure(measure)).unit
    if isinstance(limit, str) and unit in _KINDS:
        try:
            return units.parse(limit, _KINDS[unit])
        except units.UnitError as error:
            raise line_fault("limit", limit, error.rule, error.advice) from None
    try:
        value = float(str(limit).removesuffix("rpm"))
    except ValueError:
        value = math.nan
    if isinstance(limit, bool) or not math.isfinite(value):
        raise line_fault("limit", limit, "must be a value", f"write it with its unit, {measure} is in {unit}")
    return value


def check_numbers(cases: Any, seed: Any, method: str) -> None:
    """Raises LineError with all faults of the three."""
    faults = []
    if not _whole(cases) or not FEWEST <= cases <= MOST:
        advice = f"write a whole number from {FEWEST} to {MOST}; 1000 give a share to three in a hundred"
        faults.append(_core.Fault("cases", repr(cases), "cannot make a band", advice))
    if not _whole(seed) or seed < 0:
        faults.append(_core.Fault("seed", repr(seed), "must be a whole number from 0", "write for instance 1"))
    if method not in METHODS:
        near = _core.near_matches(str(method), list(METHODS))
        advice = f'did you mean "{near[0]}"?' if near else f"write one of {', '.join(METHODS)}"
        faults.append(_core.Fault("method", repr(method), f"must be one of {', '.join(METHODS)}", advice))
    if faults:
        raise line_error(faults)


def _whole(value: Any) -> bool:
    return isinstance(value, int) and not isinstance(value, bool)


def measures_and_limits(
    at: Condition, measures: Sequence[str] | str | None, limit: Limit | None, limits: Mapping[str, Limit] | None
) -> tuple[tuple[str, ...], dict[str, float]]:  # fmt: skip
    """Names of the measures asked for, and limits [SI] by measure. Raises LineError with all faults.

    limit: of the first measure. The usual measures where none is named.
    """
    listed = [measures] if isinstance(measures, str) else list(usual_measures(at) if measures is None else measures)
    if not listed:
        raise line_fault("measures", "[]", "holds none", "name one, or leave it out")
    wanted = dict(limits or {}) | ({listed[0]: limit} if limit is not None else {})
    _raise_together([lambda name=name: check_measure(name) for name in [*listed, *wanted]])
    found = _raise_together([lambda name=name, text=text: limit_of(name, text) for name, text in wanted.items()])
    return tuple(listed), dict(zip(wanted, found, strict=True))


def _raise_together(steps: Sequence[Callable[[], Any]]) -> list[Any]:
    results, faults = [], []
    for step in steps:
        try:
            results.append(step())
        except _core.LineError as error:
            faults += error.faults
    if faults:
        raise line_error(list(dict.fromkeys(faults)))
    return results
