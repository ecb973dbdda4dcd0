"""Which cases are quiet at a speed, and where each one's rattle stops."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition
from calmshaft.quiet_idle import is_quiet
from calmshaft.uncertainties.cases import STATUS_WORDS, UNSOLVED, steady_of

_UNSOLVED = [STATUS_WORDS.index(word) for word in UNSOLVED]


def quiet(lines: Sequence[_core.Line], gear: str, speeds: Sequence[float] | np.ndarray, threads: int = 0) -> np.ndarray:
    """(line, speed [rpm]): 1 quiet, 0 not, NaN where there is no answer."""
    if not len(lines):
        return np.zeros((0, len(speeds)))
    found = steady_of(lines, [Condition(float(rpm), gear) for rpm in speeds], threads)
    is_so = is_quiet(gear, found.of("unloaded_mesh_separated_share"), found.of("mesh_separated_share"))
    return np.where(np.isin(found.status, _UNSOLVED), np.nan, is_so)


def stops(lines: Sequence[_core.Line], gear: str, speeds: Sequence[float] | np.ndarray, threads: int = 0) -> np.ndarray:
    """The lowest of the speeds that is quiet with the one above it [rpm], (line,).

    -inf where it is the first one, inf where there is none.
    """
    still = quiet(lines, gear, speeds, threads) == 1
    both = still[:, :-1] & still[:, 1:]
    found = np.where(both.any(axis=1), np.asarray(speeds)[both.argmax(axis=1)], np.inf)
    return np.where(both[:, 0], -np.inf, found)
