"""Places for labels that would stand on each other: pushed apart as little as needed, in the order they come."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from matplotlib.textpath import TextPath

from calmshaft.plots.style import plain

POINT = 25.4 / 72.0  # [mm]


def spread(wanted: Sequence[float], sizes: Sequence[float], low: float, high: float) -> list[float]:
    """Centres near the wanted ones for things of these sizes, none upon another, inside low to high where they fit.

    Neighbours that touch are moved as one block, which keeps the sum of squares of all moves least (pool adjacent
    violators, as in isotonic regression).
    """
    order = np.argsort(wanted, kind="stable")
    sizes = np.asarray(sizes, dtype=float)[order]
    behind = np.concatenate([[0.0], np.cumsum((sizes[1:] + sizes[:-1]) / 2)])
    blocks: list[list[float]] = []  # [sum of free places, count]
    for place in np.asarray(wanted, dtype=float)[order] - behind:
        blocks.append([place, 1])
        while len(blocks) > 1 and blocks[-2][0] / blocks[-2][1] > blocks[-1][0] / blocks[-1][1]:
            total, count = blocks.pop()
            blocks[-1][0] += total
            blocks[-1][1] += count
    free = np.concatenate([[total / count] * int(count) for total, count in blocks] or [[]])
    if free.size:
        top = high - sizes[-1] / 2 - behind[-1]
        free = np.maximum(np.minimum(free, top), low + sizes[0] / 2)
    result = np.empty(free.size)
    result[order] = free + behind
    return result.tolist()


def text_width(text: str, points: float) -> float:
    """Width on paper [mm] of the longest line of a text."""
    lines = [line for line in plain(text).split("\n") if line.strip()]
    return (
        max((float(np.ptp(TextPath((0, 0), line, size=points).vertices[:, 0])) for line in lines), default=0.0) * POINT
    )
