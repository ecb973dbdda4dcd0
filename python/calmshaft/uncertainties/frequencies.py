"""Natural frequencies as bands over the ranges of a line's values."""

from __future__ import annotations

import math

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition
from calmshaft.line import Line
from calmshaft.runs import cylinders
from calmshaft.uncertainties.bands import quantiles
from calmshaft.uncertainties.cases import Family, check_condition, prepared_if_possible
from calmshaft.uncertainties.draws import drawn


def frequency_bands(line: Line, at: Condition, cases: int = 200, seed: int = 1) -> np.ndarray:
    """5 %, median and 95 % of each undamped natural frequency [Hz], (mode, 3), by ascending frequency as in cs.modes.

    Linearised at each case's mean torque. Where two modes change places, the lower one stays the lower. Empty (0, 3)
    where no value has a range. Cases that make no line are left out. Raises LineError where it cannot be asked this.
    """
    check_condition(line, at)
    family = Family(line)
    inputs = family.felt()
    core = at.core(cylinders(line))
    found = []
    for row in drawn("latin", cases, len(inputs), seed) if inputs else ():
        member, _ = family.member(dict(zip(inputs, row, strict=True)))
        if all(fault.warning for fault in (*_core.check(member), *_core.check(member, core))):
            ready = prepared_if_possible(member)
            if ready is not None:
                found.append(_core.linearised(ready, core)["line"].modes()["angular_frequency"] / math.tau)
    return np.array([quantiles(mode) for mode in np.transpose(found)]).reshape(-1, 3)
