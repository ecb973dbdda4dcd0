"""Sweeps over any axes, on threads here or on an executor elsewhere."""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping, Sequence
from itertools import product
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft import _core
from calmshaft.axes import CONDITION_AXES, Axis, axis_of
from calmshaft.condition import Condition, line_fault
from calmshaft.line import Line
from calmshaft.results import sweep_dataset
from calmshaft.runs import check_budget, condition_text, cylinders, prepared

if TYPE_CHECKING:
    import xarray as xr


class SweepInterrupted(KeyboardInterrupt):
    """Ctrl-C during a sweep; `partial` is the Dataset with all finished points (status -1: not reached)."""

    def __init__(self, partial: xr.Dataset):
        super().__init__("the sweep was interrupted; .partial holds the finished points")
        self.partial = partial


def sweep(
    line: Line,
    axes: Mapping[str, Any],
    at: Condition | None = None,
    *,
    keep: str = "stop torque",
    progress: bool = False,
    executor: Any = None,
    threads: int = 0,
    steps_per_cycle: int = 0,
) -> xr.Dataset:
    """Steady state over the product of all axes.

    axes: name -> values, or (values, unit). Names are "rpm", "misfiring", "gear", "load", "fuelling" or a path of
    the line such as "plate.stiffness" (the slope of the last stage before the stop; `keep` says whether the stop's
    "travel" or its "stop torque" stays). at: what the axes do not say. executor: a concurrent.futures.Executor, or
    an object with get_executor(); None runs on `threads` threads (0: one a core). progress: show a bar.

    Returns an xarray.Dataset whose dims are the names in the order given. Raises LineError when something does not
    fit, SweepInterrupted on Ctrl-C. A point that could not be solved carries its status and NaN.
    """
    check_budget(steps_per_cycle)
    made = [axis_of(name, values, line) for name, values in axes.items()]
    base = at or Condition(rpm=_first_rpm(made))
    lines, index, conditions = _points(line, made, base, keep)
    shape = tuple(len(axis.values) for axis in made)
    about = _attributes(line, made, base, keep)
    coords = {axis.dim: axis.coordinate() for axis in made}
    with progress_bar(len(conditions), progress) as report:
        if executor is None:
            table = _run(lines, index, conditions, threads, steps_per_cycle, report)
        else:
            table = _run_elsewhere(executor, lines, index, conditions, steps_per_cycle, report)
    dataset = sweep_dataset(table, coords, shape, about)
    if table.get("interrupted"):
        raise SweepInterrupted(dataset)
    return dataset


def _first_rpm(axes: Sequence[Axis]) -> float:
    for axis in axes:
        if axis.name == "rpm":
            return float(axis.values[0])
    raise line_fault(
        "rpm", "missing", "a sweep needs the crank speed", "give an rpm axis, or at=Condition(rpm=...)"
    )


def _points(
    line: Line, axes: Sequence[Axis], base: Condition, keep: str
) -> tuple[list[Line], list[int], list[Condition]]:
    """Every distinct line once, and for each point the line's index and the condition."""
    lines: dict[tuple[Any, ...], int] = {}
    made: list[Line] = []
    index, conditions = [], []
    seen: dict[tuple[Any, ...], Condition] = {}
    for values in product(*(axis.values for axis in axes)):
        point = dict(zip((axis.name for axis in axes), values, strict=True))
        changes = {name: value for name, value in point.items() if name not in CONDITION_AXES}
        key = tuple(changes.items())
        if key not in lines:
            lines[key] = len(made)
            made.append(line.replace(changes, keep=keep) if changes else line)
        asked = tuple((name, value) for name, value in point.items() if name in CONDITION_AXES)
        if asked not in seen:
            seen[asked] = base.with_(**dict(asked))
        index.append(lines[key])
        conditions.append(seen[asked])
    return made, index, conditions


def _attributes(line: Line, axes: Sequence[Axis], base: Condition, keep: str) -> dict[str, Any]:
    stiffness_varied = any(axis.name == "plate.stiffness" for axis in axes)
    return {
        "title": line.title,
        "condition": condition_text(base),
        "calmshaft_version": _core.__version__,
        "line": json.dumps(line.document, sort_keys=True),
        **({"plate_stiffness_keeps": keep} if stiffness_varied else {}),
    }


def _run(
    lines: Sequence[Line],
    index: Sequence[int],
    conditions: Sequence[Condition],
    threads: int,
    steps_per_cycle: int,
    report: Callable[[int], None] | None,
) -> dict[str, Any]:
    core = {at: at.core(cylinders(lines[0])) for at in dict.fromkeys(conditions)}
    wanted = [core[at] for at in conditions]
    return _core.sweep(
        [prepared(one) for one in lines], list(index), wanted, threads, steps_per_cycle, report
    )


def _run_chunk(
    lines: Sequence[Line], index: Sequence[int], conditions: Sequence[Condition], steps: int
) -> dict[str, Any]:
    return _run(lines, index, conditions, 1, steps, None)


def _run_elsewhere(
    executor: Any,
    lines: Sequence[Line],
    index: Sequence[int],
    conditions: Sequence[Condition],
    steps: int,
    report: Callable[[int], None] | None,
    chunk: int = 64,
) -> dict[str, Any]:
    pool = executor.get_executor() if hasattr(executor, "get_executor") else executor
    jobs = []
    for start in range(0, len(conditions), chunk):
        part = slice(start, start + chunk)
        used = sorted(set(index[part]))
        local = [used.index(i) for i in index[part]]
        jobs.append(pool.submit(_run_chunk, [lines[i] for i in used], local, conditions[part], steps))
    tables = []
    for job in jobs:
        tables.append(job.result())
        if report:
            report(sum(table["status"].size for table in tables))
    return {
        name: np.concatenate([table[name] for table in tables])
        for name in tables[0]
        if isinstance(tables[0][name], np.ndarray)
    }


class progress_bar:
    """A progress bar on standard error, or nothing."""

    def __init__(self, total: int, wanted: bool):
        self.total, self.wanted = total, wanted

    def __enter__(self) -> Callable[[int], None] | None:
        if not self.wanted:
            return None
        from tqdm.auto import tqdm

        self.bar = tqdm(total=self.total, unit="point")
        return lambda done: self.bar.update(done - self.bar.n) and None

    def __exit__(self, *_: object) -> None:
        if self.wanted:
            self.bar.close()
