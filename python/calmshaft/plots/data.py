"""What the pictures need from a Dataset of a sweep."""

from __future__ import annotations

import json
import math

import numpy as np
import xarray as xr

from calmshaft.line import Line, line_from_document

SHOWN = {"rad": ("deg", math.degrees(1.0))}
_WORDS = {"N*m/deg": "N m/deg", "N*m": "N m", "kg*m^2": "kg m²", "N*m/rad": "N m/rad", "N*m*s/rad": "N m s/rad"}


def settled(ds: xr.Dataset, name: str) -> xr.DataArray:
    """A measure where the motion repeats, and its mean over cycles where it does not."""
    if f"{name}_mean" not in ds:
        return ds[name]
    return ds[name].fillna(ds[f"{name}_mean"]).assign_attrs(ds[name].attrs)


def unit_words(unit: str) -> str:
    """A unit as it stands on an axis."""
    return _WORDS.get(unit, unit)


def axis_label(ds: xr.Dataset, dim: str) -> str:
    """Name and unit of a swept axis."""
    if dim == "rpm":
        return "mean crank speed [rpm]"
    name = str(ds[dim].attrs.get("long_name", dim)).replace(".", " ").replace("_", " ")
    unit = ds[dim].attrs.get("units")
    return f"{name} [{unit_words(unit)}]" if unit else name


def line_of(ds: xr.Dataset) -> Line | None:
    """The line that was swept, as the Dataset remembers it."""
    return line_from_document(json.loads(ds.attrs["line"])) if "line" in ds.attrs else None


def rpm_of(line: Line, key: str) -> float:
    """A speed of the line [rpm]."""
    return line.quantities[key].value * 30.0 / math.pi


def edges(places: np.ndarray) -> np.ndarray:
    """Borders of the cells around computed points, half way between neighbours; shape (n + 1,)."""
    places = np.asarray(places, dtype=float)
    if places.size == 1:
        return places[0] + np.array([-0.5, 0.5])
    middle = (places[1:] + places[:-1]) / 2
    return np.concatenate([[2 * places[0] - middle[0]], middle, [2 * places[-1] - middle[-1]]])
