"""Files that are whole or not there: written under another name, flushed, then renamed into place; plain values."""

from __future__ import annotations

import csv
import math
import os
import tempfile
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft.results import STATUS

if TYPE_CHECKING:
    import xarray as xr
    from matplotlib.figure import Figure

PIXELS_PER_INCH = 150


def write_whole(path: str | Path, write: Callable[[Path], Any]) -> Path:
    """Let `write` fill a file of another name in the same folder, then give it its name. Returns the path.

    The folder is made where it is missing. Where `write` fails, nothing of the new file stays and an older file
    of that name is untouched. Raises OSError.
    """
    path = Path(path)
    path.parent.mkdir(parents=True, exist_ok=True)
    try:
        beside = tempfile.TemporaryDirectory(dir=path.parent, prefix=f".{path.stem}-")
    except OSError as error:  # the user knows the name of the file, not that of the folder beside it
        raise OSError(error.errno, error.strerror, str(path)) from None
    with beside as folder:
        fresh = Path(folder) / path.name
        write(fresh)
        with fresh.open("rb") as file:
            os.fsync(file.fileno())
        os.replace(fresh, path)
    return path


def write_text(text: str, path: str | Path) -> Path:
    """A text file in UTF-8. Raises OSError."""
    return write_whole(path, lambda fresh: fresh.write_text(text, encoding="utf-8"))


def write_netcdf(dataset: xr.Dataset, path: str | Path) -> Path:
    """A Dataset as NetCDF-4. Raises OSError."""
    return write_whole(path, lambda fresh: dataset.to_netcdf(fresh, engine="h5netcdf"))


def write_figure(figure: Figure, path: str | Path) -> Path:
    """A figure in the format of the path's suffix. Raises OSError."""
    return write_whole(path, lambda fresh: figure.savefig(fresh, dpi=PIXELS_PER_INCH))


def write_csv(dataset: xr.Dataset, path: str | Path) -> Path:
    """One row a point of a sweep: its place on every axis, then every measure with its unit in the heading.

    Numbers have seven digits, empty where there is none; the status is a word. Amplitudes by order stay in the
    NetCDF file. Raises OSError.
    """

    def write(fresh: Path) -> None:
        with fresh.open("w", newline="", encoding="utf-8") as file:
            csv.writer(file).writerows(_rows(dataset))

    return write_whole(path, write)


def _rows(dataset: xr.Dataset) -> Iterator[list[str]]:
    dims = dataset["status"].dims
    names = [str(name) for name in dataset.data_vars if dataset[name].dims == dims]
    axes = [(place, name) for place, dim in enumerate(dims) for name in _along(dataset, str(dim))]
    yield [_heading(dataset, name) for name in (*(name for _, name in axes), *names)]
    columns = [np.asarray(dataset[name].values).ravel() for name in names]
    places = [(place, dataset[name].values) for place, name in axes]
    for point, index in enumerate(np.ndindex(*dataset["status"].shape)):
        here = [_cell(values[index[place]]) for place, values in places]
        yield here + [_cell(values[point], name) for name, values in zip(names, columns, strict=True)]


def _along(dataset: xr.Dataset, dim: str) -> list[str]:
    """A dimension, then the axes that stand side by side on it."""
    return [dim, *(str(name) for name, one in dataset.coords.items() if one.dims == (dim,) and name != dim)]


def _heading(dataset: xr.Dataset, name: str) -> str:
    unit = dataset[name].attrs.get("units")
    return f"{name} [{unit}]" if unit and unit != "1" else name


def _cell(value: Any, name: str = "") -> str:
    if name == "status":
        return STATUS[int(value)]
    if isinstance(value, np.bool_):
        return "yes" if value else "no"
    if isinstance(value, np.floating):
        return f"{value:.7g}" if np.isfinite(value) else ""
    return str(value)


def json_ready(value: Any) -> Any:
    """Plain dicts, lists, numbers and texts, for any JSON writer; what is not a finite number is None."""
    if isinstance(value, Mapping):
        return {str(key): json_ready(inner) for key, inner in value.items()}
    if isinstance(value, list | tuple):
        return [json_ready(inner) for inner in value]
    if isinstance(value, np.ndarray):
        return json_ready(value.tolist())
    if isinstance(value, complex):
        return {"real": json_ready(value.real), "imaginary": json_ready(value.imag)}
    if isinstance(value, np.generic):
        return json_ready(value.item())
    if isinstance(value, float) and not math.isfinite(value):
        return None
    return value
