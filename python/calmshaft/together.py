"""Several axes on one dimension of a sweep: values side by side, or points drawn at random."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from numbers import Real
from typing import Any

import numpy as np

from calmshaft.axes import refuse_long
from calmshaft.condition import line_fault


@dataclass(frozen=True)
class Together:
    """Axes that share a dimension: all their first values are one point, all their second ones the next.

    axes: name -> values, or (values, unit). about: what the Dataset keeps of how they were made.
    """

    axes: Mapping[str, Any]
    may_repeat: bool = False
    about: Mapping[str, Any] = field(default_factory=dict)


def zipped(axes: Mapping[str, Any]) -> Together:
    """Axes side by side in place of their product: `{"pair": cs.zipped({"rpm": [800, 1200], "gear": [...]})}`.

    axes: name -> values, or (values, unit), all of one length, which cs.sweep checks.
    """
    return Together(dict(axes))


def random_points(axes: Mapping[str, Any], count: int, seed: int = 0, method: str = "latin hypercube") -> Together:
    """`count` points at random for a sweep, on one dimension: `cs.sweep(line, cs.random_points({...}, 500, seed=1))`.

    axes: name -> (low, high) or (low, high, unit) for any number between, or a list to choose from. method:
    "latin hypercube" (every axis is covered evenly), "sobol" (so are all together; needs SciPy, best with a power of
    two), or "independent". The same seed gives the same points. Raises LineError.
    """
    refuse_long("point", count)
    if count < 1 or not axes:
        raise line_fault("random points", count, "at least one point and one axis are needed", "write e.g. count=500")
    if method not in _METHODS:
        raise line_fault("method", method, "is not known", f"write one of {', '.join(_METHODS)}")
    shares = _METHODS[method](count, len(axes), seed)
    drawn = {name: _spread(name, given, share) for (name, given), share in zip(axes.items(), shares.T, strict=True)}
    return Together(drawn, may_repeat=True, about={"points": f"{count} by {method}", "seed": seed})


def _spread(name: str, given: Any, share: np.ndarray) -> Any:
    """Values from shares 0 .. 1 of the range or list."""
    if isinstance(given, tuple) and len(given) in (2, 3) and all(isinstance(end, Real) for end in given[:2]):
        low, high, *unit = given
        if not (np.isfinite([low, high]).all() and low < high):
            raise line_fault(f"axis {name}", f"{low} to {high}", "is no range", "write the lower end first")
        values = (low + (high - low) * share).tolist()
        return (values, unit[0]) if unit else values
    if not isinstance(given, Sequence | Mapping) or isinstance(given, str) or not given:
        advice = 'write (8, 60, "N*m/deg") for a range, or a list to choose from'
        raise line_fault(f"axis {name}", given, "is neither a range nor a list", advice)
    choices = list(given)
    picked = [choices[place] for place in (share * len(choices)).astype(int)]
    return (picked, given) if isinstance(given, Mapping) else picked


def _independent(count: int, axes: int, seed: int) -> np.ndarray:
    return np.random.default_rng(seed).random((count, axes))


def _latin_hypercube(count: int, axes: int, seed: int) -> np.ndarray:
    """One point in each of `count` equal strips of every axis."""
    random = np.random.default_rng(seed)
    strips = random.permuted(np.tile(np.arange(count), (axes, 1)), axis=1).T
    return (strips + random.random((count, axes))) / count


def _sobol(count: int, axes: int, seed: int) -> np.ndarray:
    try:
        from scipy.stats import qmc
    except ImportError:
        raise line_fault("method", "sobol", "needs SciPy", 'install scipy, or write "latin hypercube"') from None
    power = (count - 1).bit_length()  # whole powers of two are balanced; the first of them are kept
    shares: np.ndarray = qmc.Sobol(axes, seed=seed).random_base2(power)[:count]
    return shares


_METHODS: dict[str, Callable[[int, int, int], np.ndarray]] = {
    "latin hypercube": _latin_hypercube,
    "sobol": _sobol,
    "independent": _independent,
}
