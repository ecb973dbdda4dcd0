"""The points of a sweep in chunks: on threads here, or on an executor elsewhere."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft import _core
from calmshaft.condition import Condition
from calmshaft.designs import Design
from calmshaft.executors import on_executor
from calmshaft.line import Line
from calmshaft.runs import cylinders, prepared
from calmshaft.walks import Walk

if TYPE_CHECKING:
    import xarray as xr

Table = dict[str, np.ndarray]
Points = tuple[Sequence[Line], Sequence[int], Sequence[Condition]]
LARGEST_CHUNK, SMALLEST_CHUNK = 512, 64  # points: lanes stay full, and a kill loses seconds of work


class SweepInterrupted(KeyboardInterrupt):
    """Ctrl-C during a sweep.

    `partial` is the Dataset with all finished points (status -1: not reached); of a sweep into a file it is None,
    and the finished points are kept for resume=True.
    """

    def __init__(self, partial: xr.Dataset | None, message: str = ""):
        super().__init__(message or "the sweep was interrupted; .partial holds the finished points")
        self.partial = partial


def chunk_of(design: Design) -> int:
    """Points in a chunk: about sixteen chunks of small sweeps, never tiny or slow ones; whole columns of a walk."""
    wanted = min(LARGEST_CHUNK, max(SMALLEST_CHUNK, design.size // 16))
    block = design.walk.block if design.walk else 1
    return -(-wanted // block) * block


def span(design: Design, number: int, chunk: int) -> tuple[int, int]:
    """First point of a chunk, and the one after its last."""
    return number * chunk, min((number + 1) * chunk, design.size)


def run_points(
    points: Points,
    threads: int,
    steps: int,
    report: Callable[[int], None] | None = None,
    walk: Walk | None = None,
) -> tuple[Table, bool]:
    """The compiled sweep's arrays, and whether Ctrl-C ended it early. walk: points are whole blocks of it."""
    lines, index, conditions = points
    core = {at: at.core(cylinders(lines[0])) for at in dict.fromkeys(conditions)}
    made = [prepared(one) for one in lines]
    order = walk.order(len(index)) if walk else np.arange(len(index))
    wanted, placed = [core[conditions[place]] for place in order], [index[place] for place in order]
    in_columns = {"column": walk.column} if walk else {}
    table = _core.sweep(made, placed, wanted, threads, steps, report, **in_columns)
    interrupted = bool(table.pop("interrupted"))
    if walk:
        back = np.argsort(order)
        table = {name: values[back] for name, values in table.items()}
    return table, interrupted


def run_here(
    design: Design, numbers: Iterable[int], threads: int, steps: int, report: Callable[[int], None] | None = None
) -> Iterator[tuple[int, Table]]:
    """Chunk by chunk on `threads` threads. report: points finished so far. Raises KeyboardInterrupt on Ctrl-C."""
    chunk, before = chunk_of(design), 0
    for number in numbers:
        told = None if report is None else lambda done, before=before: report(before + done)
        yield number, _whole(design.points(*span(design, number, chunk)), threads, steps, told, design.walk)
        before += chunk


def run_elsewhere(
    executor: Any,
    design: Design,
    numbers: Iterable[int],
    steps: int,
    report: Callable[[int], None] | None = None,
) -> Iterator[tuple[int, Table]]:
    """Chunk by chunk on an executor, in the order they finish, a thread each; errors as `on_executor`."""
    chunk, done = chunk_of(design), 0
    jobs = ((number, (design.points(*span(design, number, chunk)), 1, steps, None, design.walk)) for number in numbers)
    for number, table in on_executor(executor, _whole, jobs):
        done += table["status"].size
        if report:
            report(done)
        yield number, table


def whole_table(design: Design, chunks: Iterable[tuple[int, Table]], into: Table) -> None:
    """Put chunks where they belong in a table of the design's size."""
    chunk = chunk_of(design)
    for number, table in chunks:
        for name, values in table.items():
            into[name][slice(*span(design, number, chunk))] = values


def seconds_of(design: Design, threads: int, steps: int, count: int) -> float:
    """Time that `count` points from all over the design take, measured [s]."""
    lines: list[Line] = []
    index: list[int] = []
    conditions: list[Condition] = []
    begun = time.perf_counter()
    for point in np.random.default_rng(0).integers(design.size, size=count).tolist():
        (one,), _, (at,) = design.points(point, point + 1)
        index.append(len(lines))
        lines.append(one)
        conditions.append(at)
    run_points((lines, index, conditions), threads, steps)
    return time.perf_counter() - begun


def _whole(
    points: Points,
    threads: int,
    steps: int,
    report: Callable[[int], None] | None = None,
    walk: Walk | None = None,
) -> Table:
    table, interrupted = run_points(points, threads, steps, report, walk)
    if interrupted:
        raise KeyboardInterrupt
    return table
