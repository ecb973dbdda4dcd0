"""The points of a sweep in chunks: on threads here, or on an executor elsewhere."""

from __future__ import annotations

import time
from collections.abc import Callable, Iterable, Iterator, Sequence
from functools import cached_property
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
Begun = Callable[[int], Table | None]  # number of a chunk -> what an earlier run of it has finished
LARGEST_CHUNK, SMALLEST_CHUNK = 512, 64  # points: lanes stay full, and a kill loses seconds of work


class SweepInterrupted(KeyboardInterrupt):
    """Ctrl-C during a sweep; made: what gives the Dataset of the finished points."""

    def __init__(self, made: Callable[[], xr.Dataset], message: str = ""):
        super().__init__(message or "the sweep was interrupted; .partial holds the finished points")
        self._made = made

    @cached_property
    def partial(self) -> xr.Dataset:
        """The Dataset with all finished points (status -1: not reached).

        Of a sweep into a file it is read from the folder of finished chunks, into memory, when first asked for.
        """
        return self._made()


class ChunkCut(KeyboardInterrupt):
    """Ctrl-C in a chunk. table: its arrays with the points that were finished (status -1: not reached)."""

    def __init__(self, number: int, table: Table):
        super().__init__(f"chunk {number} was cut short")
        self.number, self.table = number, table


def _none(number: int) -> Table | None:
    return None


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
    made = [prepared(lines[0]), *(prepared(one, lines[0]) for one in lines[1:])]
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
    design: Design,
    numbers: Iterable[int],
    threads: int,
    steps: int,
    report: Callable[[int], None] | None = None,
    begun: Begun = _none,
) -> Iterator[tuple[int, Table]]:
    """Chunk by chunk on `threads` threads. report: points finished so far. Raises ChunkCut on Ctrl-C."""
    chunk, before = chunk_of(design), 0
    for number in numbers:
        told = None if report is None else lambda done, before=before: report(before + done)
        points, kept = design.points(*span(design, number, chunk)), begun(number)
        left = points_left(len(points[1]), kept)
        table, interrupted = _run_rest(points, kept, threads, steps, told, design.walk)
        if interrupted:
            raise ChunkCut(number, _whole_blocks(table, design.walk))
        yield number, table
        before += left


def run_elsewhere(
    executor: Any,
    design: Design,
    numbers: Iterable[int],
    steps: int,
    report: Callable[[int], None] | None = None,
    begun: Begun = _none,
) -> Iterator[tuple[int, Table]]:
    """Chunk by chunk on an executor, in the order they finish, a thread each; errors as `on_executor`."""
    chunk, done = chunk_of(design), 0
    jobs = (
        (number, (design.points(*span(design, number, chunk)), begun(number), 1, steps, None, design.walk))
        for number in numbers
    )
    for number, table in on_executor(executor, _whole, jobs):
        done += points_left(table["status"].size, begun(number))
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


def points_left(count: int, kept: Table | None) -> int:
    """Of `count` points of a chunk, those that an earlier run of it has not finished."""
    return count if kept is None else int((kept["status"] < 0).sum())


def _run_rest(
    points: Points,
    kept: Table | None,
    threads: int,
    steps: int,
    report: Callable[[int], None] | None,
    walk: Walk | None,
) -> tuple[Table, bool]:
    """The points that `kept` lacks, put to those it has; no bit of a point depends on which others run."""
    if kept is None:
        return run_points(points, threads, steps, report, walk)
    lines, index, conditions = points
    left = np.flatnonzero(kept["status"] < 0)
    rest = (lines, [index[place] for place in left], [conditions[place] for place in left])
    found, interrupted = run_points(rest, threads, steps, report, walk)
    for name, values in found.items():
        kept[name][left] = values
    return kept, interrupted


def _whole_blocks(table: Table, walk: Walk | None) -> Table:
    """Without the points of columns that were left on the way: they are walked from their beginning again."""
    if walk:
        unfinished = (table["status"].reshape(-1, walk.block) < 0).any(axis=1)
        table["status"][np.repeat(unfinished, walk.block)] = -1
    return table


def _whole(
    points: Points,
    kept: Table | None,
    threads: int,
    steps: int,
    report: Callable[[int], None] | None = None,
    walk: Walk | None = None,
) -> Table:
    table, interrupted = _run_rest(points, kept, threads, steps, report, walk)
    if interrupted:
        raise KeyboardInterrupt
    return table
