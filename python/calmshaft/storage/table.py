"""From chunks to one table: a NetCDF file or rows of text, a chunk in memory at a time."""

from __future__ import annotations

import math
import os
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft.results import blank_table, dims_of, sweep_dataset

if TYPE_CHECKING:
    import xarray as xr

Table = Mapping[str, np.ndarray]
Tables = Iterable[tuple[int, Table]]  # number of the first point, arrays (point, ...)
AT_ONCE = 8192  # points written together: 12 MB


def assemble(
    path: Path, coords: Mapping[str, Any], shape: tuple[int, ...], attributes: Mapping[str, Any], tables: Tables
) -> None:
    """Fill a NetCDF-4 file as `sweep_dataset` would, from tables in any order. Raises OSError.

    dims of the points are the names in `coords` in their order unless these name other dims; points run through
    `shape` with the last axis fastest.
    """
    import h5netcdf
    import h5py
    import xarray as xr

    empty = flat_dataset(blank_table(0))
    _room_for(path, empty, shape)
    xr.Dataset(coords=coords, attrs=dict(attributes)).to_netcdf(path, engine="h5netcdf")
    with h5netcdf.File(path, "a") as file:
        _declare(file, empty, dims_of(coords), shape)
    with h5py.File(path, "r+") as file:
        for first, table in _gathered(tables):
            for name, variable in flat_dataset(table).data_vars.items():
                _fill(file[str(name)], variable.values, first, shape)
    with path.open("rb") as written:
        os.fsync(written.fileno())


def _room_for(path: Path, empty: xr.Dataset, shape: tuple[int, ...]) -> None:
    """Raises OSError where the disk has no room for the file: HDF5 would say so late and by halves."""
    point = sum(one.dtype.itemsize * math.prod(one.shape[1:]) for one in empty.data_vars.values())
    try:
        with path.open("wb") as file:
            os.posix_fallocate(file.fileno(), 0, point * math.prod(shape))
    finally:
        path.unlink(missing_ok=True)


def _gathered(tables: Tables) -> Iterator[tuple[int, Table]]:
    """Neighbouring tables joined, so that the file is written in fewer and larger pieces."""
    together: list[Table] = []
    start = end = 0
    for first, table in tables:
        if together and (first != end or end - start >= AT_ONCE):
            yield start, _joined(together)
            together = []
        start = start if together else first
        end = first + table["status"].size
        together.append(table)
    if together:
        yield start, _joined(together)


def _joined(tables: list[Table]) -> Table:
    return {name: np.concatenate([table[name] for table in tables]) for name in tables[0]}


def flat_dataset(table: Table) -> xr.Dataset:
    """A chunk over `point`, with the names, units and meanings of the whole."""
    count = table["status"].size
    return sweep_dataset(table, {"point": ("point", np.arange(count))}, (count,), {})


def boxes(first: int, end: int, shape: tuple[int, ...]) -> Iterator[tuple[slice, ...]]:
    """The points first .. end - 1 of a grid (last axis fastest) as the fewest blocks, in order."""
    inner = math.prod(shape[1:])
    if len(shape) == 1:
        yield (slice(first, end),)
        return
    while first < end:
        row, offset = divmod(first, inner)
        if offset == 0 and end - first >= inner:
            rows = (end - first) // inner
            yield (slice(row, row + rows), *(slice(0, size) for size in shape[1:]))
            first += rows * inner
            continue
        stop = min(end, (row + 1) * inner)
        for box in boxes(offset, offset + stop - first, shape[1:]):
            yield (slice(row, row + 1), *box)
        first = stop


def _declare(file: Any, flat: xr.Dataset, dims: tuple[str, ...], shape: tuple[int, ...]) -> None:
    for dim, size in zip(dims, shape, strict=True):
        if dim not in file.dimensions:
            file.dimensions[dim] = size
    order = flat["order"]
    file.dimensions["order"] = order.size
    _variable(file, "order", ("order",), order)[...] = order.values
    for name, variable in flat.data_vars.items():
        _variable(file, str(name), (*dims, *variable.dims[1:]), variable)


def _variable(file: Any, name: str, dims: tuple[str, ...], about: xr.DataArray) -> Any:
    """A variable encoded as xarray does: truth as int8 that says so, NaN where a number is missing."""
    truth = about.dtype == bool
    kind = np.dtype(np.int8) if truth else about.dtype
    missing = math.nan if kind.kind == "f" else None
    made = file.create_variable(name, dims, kind, fillvalue=missing)
    for key, value in {**about.attrs, **({"dtype": "bool"} if truth else {})}.items():
        made.attrs[key] = value
    return made


def _fill(variable: Any, values: np.ndarray, first: int, shape: tuple[int, ...]) -> None:
    done = 0
    for box in boxes(first, first + values.shape[0], shape):
        extent = tuple(part.stop - part.start for part in box)
        count = math.prod(extent)
        variable[box] = values[done : done + count].reshape(*extent, *values.shape[1:])
        done += count
