"""Where in their ranges the values of each case lie: drawn once for all, so that chunks and threads change nothing."""

from __future__ import annotations

import numpy as np

from calmshaft.condition import line_fault

METHODS = ("random", "latin", "sobol")


def drawn(method: str, cases: int, inputs: int, seed: int) -> np.ndarray:
    """Shares of the ranges, (case, input), each even between 0 and 1.

    "random": independent. "latin": each input once in every one of `cases` equal parts of its range (Latin hypercube).
    "sobol": the first points of a scrambled Sobol sequence; needs SciPy. Raises LineError where it is not installed.
    """
    generator = np.random.default_rng(seed)
    if method == "sobol":
        return _sobol(cases, inputs, generator)
    if method == "latin":
        strata = np.stack([generator.permutation(cases) for _ in range(inputs)], axis=-1)
        return (strata + generator.random((cases, inputs))) / cases
    return generator.random((cases, inputs))


def _sobol(cases: int, inputs: int, generator: np.random.Generator) -> np.ndarray:
    try:
        from scipy.stats import qmc
    except ImportError:
        advice = 'install it by `pip install "calmshaft[sensitivity]"`, or take method="latin"'
        raise line_fault("method", "sobol", "needs SciPy, which is not installed", advice) from None
    powers = max(1, (cases - 1).bit_length())  # a whole power of two keeps the sequence balanced
    return qmc.Sobol(inputs, rng=generator).random_base2(powers)[:cases]
