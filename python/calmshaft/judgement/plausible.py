"""Bands beside verdicts: the deciding point of each, asked of plausible cases as well."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import TYPE_CHECKING

import numpy as np

from calmshaft.condition import Condition
from calmshaft.judgement.over_speed import SHARE, Respect, of_measures
from calmshaft.line import Line
from calmshaft.results import MEASURES
from calmshaft.uncertainties.bands import quantiles
from calmshaft.uncertainties.cases import COLUMN, STATUS_WORDS, UNSOLVED, Family, Steady, steady_of
from calmshaft.uncertainties.draws import drawn

if TYPE_CHECKING:
    import xarray as xr

    from calmshaft.judgement.comparison import Verdict

SEED = 1  # the same for all lines, so that candidates are asked with the same luck


def banded(
    line: Line, at: Condition, verdicts: Sequence[Verdict], cases: Mapping[str, list[str]], count: int, threads: int
) -> list[Verdict]:  # fmt: skip
    """The verdicts of one line in one gear with low, high and share over, from `count` plausible lines.

    Those without a number, of the shaft's torque (which needs signals) or of lines without ranges stay as they are.
    """
    family = Family(line)
    inputs = family.felt()
    points = list(dict.fromkeys(_point(one, cases) for one in verdicts if np.isfinite(one.value)))
    if not inputs or not points:
        return list(verdicts)
    shares = drawn("latin", count, len(inputs), SEED)
    members = [family.member(dict(zip(inputs, row, strict=True)))[0] for row in shares]
    asked = [at.with_(rpm=rpm, misfiring=label) for rpm, label in points]
    found = steady_of(members, asked, threads)
    made = {one.subject: one for one in of_measures(line, at.gear, _dataset(found)) if one.value is not None}
    return [
        _with_band(one, made[one.subject], points.index(_point(one, cases)), found)
        if one.subject in made and np.isfinite(one.value)
        else one
        for one in verdicts
    ]


def _point(one: Verdict, cases: Mapping[str, list[str]]) -> tuple[float, str]:
    """Speed and label of misfiring that decide."""
    labels = cases[one.cylinders]
    return one.rpm, str(one.cylinder) if one.cylinder else labels[0]


def _dataset(found: Steady) -> xr.Dataset:
    """As a sweep's, over case and point."""
    import xarray  # loads no earlier than needed

    return xarray.Dataset({one.name: (("case", "point"), found.values[..., COLUMN[one.name]]) for one in MEASURES})


def _with_band(one: Verdict, respect: Respect, point: int, found: Steady) -> Verdict:
    solved = ~np.isin(found.status[:, point], [STATUS_WORDS.index(word) for word in UNSOLVED])
    value, limit = (
        (respect.value * 0 + part).isel(point=point).values[solved] for part in (respect.value, respect.limit)
    )
    there = np.isfinite(value) & np.isfinite(limit)
    if not there.any():
        return one
    low, _, high = quantiles(value[there])
    past = value > limit if one.unit == SHARE else value >= limit  # as the verdict itself
    return replace(one, low=low, high=high, share_over=float(past[there].mean()), plausible=int(there.sum()))
