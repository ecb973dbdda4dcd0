"""Sweeps over any axes, on threads here or on an executor elsewhere, in memory or into a file."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calmshaft.condition import Condition
from calmshaft.designs import Design, design_of
from calmshaft.line import Line
from calmshaft.places import ends_in
from calmshaft.progress import bar
from calmshaft.results import blank_table, sweep_dataset
from calmshaft.runs import check_budget
from calmshaft.sweep_cost import refuse_unasked
from calmshaft.sweep_runs import (
    Begun,
    SweepInterrupted,
    Table,
    chunk_of,
    run_elsewhere,
    run_here,
    run_points,
    seconds_of,
    whole_table,
)
from calmshaft.together import Together
from calmshaft.walks import jumps_of

TABLES = (".nc", ".csv")

if TYPE_CHECKING:
    import xarray as xr


def sweep(
    line: Line,
    axes: Mapping[str, Any] | Together,
    at: Condition | None = None,
    *,
    keep: str = "stop torque",
    progress: bool = False,
    executor: Any = None,
    threads: int = 0,
    steps_per_cycle: int = 0,
    out: str | Path | None = None,
    direction: str | None = None,
    along: str = "rpm",
    resume: bool = False,
    yes: bool = False,
) -> xr.Dataset:
    """Steady state over the product of all axes.

    axes: name -> values, (values, unit), or texts with units. Names are "rpm", "misfiring", "gear", "load",
    "fuelling", "plate" for whole plates ({label: plate or file}, or names of files) or a path of the line such as
    "plate.stiffness" (the slope of the last stage before the stop; `keep` says whether the stop's "travel" or its
    "stop torque" stays). Several axes side by side on one dimension: a name of your own -> zipped(axes) or
    random_points(axes, count), which may also stand for all axes. at: what the axes do not say.

    direction: None starts every point from cold. "up" or "down" starts each from the end of its neighbour along the
    axis `along`, whose dimension then comes last; "both" does so both ways on a dimension `direction`, and `jumps`
    is true where the two settle on different states.

    executor: a concurrent.futures.Executor, or an object with get_executor() such as a Dask client; None runs on
    `threads` threads (0: one a core). progress: show a bar. out: a file, .nc or .csv; finished chunks are kept
    beside it in a folder .parts until it is whole, and `resume` goes on with them after whatever stopped the sweep;
    a file that is whole already is read and nothing is run.
    yes: begin more than 200,000 points.

    Returns an xarray.Dataset whose dims are the names in the order given; with out="....nc" it reads from the file
    as needed, so that memory stays flat. Raises LineError when something does not fit, is in use or belongs to
    another sweep, OSError when the file cannot be written, SweepInterrupted on Ctrl-C. A point that could not be
    solved carries its status and NaN.
    """
    check_budget(steps_per_cycle)
    if out is not None:
        ends_in(Path(out), TABLES, "out", "ripple")
    design = design_of(line, axes, at, keep, direction, along)
    about = design.attributes() | ({"steps_per_cycle": steps_per_cycle} if steps_per_cycle else {})
    if out is not None and resume:
        from calmshaft.storage import complete

        if (there := complete(Path(out), design, about)) is not None:
            return there
    refuse_unasked(design.size, partial(seconds_of, design, threads, steps_per_cycle), yes)
    design.check()
    chunks = partial(_chunks, design, executor, threads, steps_per_cycle)
    if out is not None:
        from calmshaft.storage import manifest_of, sweep_into

        manifest = manifest_of(design, steps_per_cycle)
        return sweep_into(Path(out), design, about, manifest, chunks, resume=resume, progress=progress)
    with bar(design.size, progress) as report:
        if executor is None:  # in one go: lanes stay full to the end, and Ctrl-C keeps every finished point
            points = design.points(0, design.size)
            table, interrupted = run_points(points, threads, steps_per_cycle, report, design.walk)
        else:
            table, interrupted = _gathered(design, chunks, report)
    dataset = sweep_dataset(table, design.coords, design.shape, about)
    if "direction" in dataset.dims:
        dataset["jumps"] = jumps_of(dataset, line.core.engine.rated_torque)
    if interrupted:
        raise SweepInterrupted(lambda: dataset)
    return dataset


def _chunks(
    design: Design,
    executor: Any,
    threads: int,
    steps: int,
    numbers: Iterable[int],
    report: Callable[[int], None] | None,
    *begun: Begun,
) -> Iterator[tuple[int, Table]]:
    if executor is None:
        return run_here(design, numbers, threads, steps, report, *begun)
    return run_elsewhere(executor, design, numbers, steps, report, *begun)


def _gathered(design: Design, chunks: Any, report: Callable[[int], None] | None) -> tuple[Table, bool]:
    """The table of chunks that come in any order, and whether Ctrl-C ended it early."""
    table = blank_table(design.size)
    try:
        whole_table(design, chunks(range(-(-design.size // chunk_of(design))), report), table)
    except KeyboardInterrupt:
        return table, True
    return table, False
