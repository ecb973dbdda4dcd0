"""A result that is whole already: whether it is the one of this sweep."""

from __future__ import annotations

import json
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calmshaft.condition import line_fault
from calmshaft.designs import Design
from calmshaft.output import json_ready
from calmshaft.storage.into_file import parts_of
from calmshaft.storage.manifest import differences_in_words, plain_axis

if TYPE_CHECKING:
    import xarray as xr


def complete(out: Path, design: Design, about: Mapping[str, Any]) -> xr.Dataset | None:
    """The Dataset of a file that is whole already; None where it is not there or points of it are left to run.

    about: the attributes of this sweep's Dataset. Raises LineError where the file is of another sweep or does not
    say of which.
    """
    if not out.exists() or any(parts_of(out).glob("*-*.npz")):
        return None
    if out.suffix != ".nc":
        rule = "is there, nothing unfinished is kept beside it, and it does not say of which sweep it is"
        raise line_fault("out", str(out), rule, "use it as it is, or leave out resume (--resume) to run it all again")
    dataset = _opened(out)
    found, asked = _described(dataset.attrs, _axes_of(dataset)), _described(about, design.coords)
    if words := differences_in_words(found, asked):
        dataset.close()
        advice = "write to another file, or leave out resume (--resume) to put this sweep in its place"
        raise line_fault("out", str(out), f"is the whole result of another sweep: {words}", advice)
    return dataset


def _opened(out: Path) -> xr.Dataset:
    import xarray as xr

    try:
        return xr.open_dataset(out, engine="h5netcdf")
    except (OSError, ValueError):
        advice = "write to another file, or leave out resume (--resume) to write it anew"
        raise line_fault("out", str(out), "cannot be read as the result of a sweep", advice) from None


def _axes_of(dataset: xr.Dataset) -> dict[str, Any]:
    return {str(name): (one.dims, one.values, one.attrs) for name, one in dataset.coords.items() if name != "order"}


def _described(about: Mapping[str, Any], axes: Mapping[str, Any]) -> dict[str, Any]:
    read = {key: json.loads(value) if key in ("line", "plates") else value for key, value in about.items()}
    plain: dict[str, Any] = json_ready({**read, "axes": {name: plain_axis(*one) for name, one in axes.items()}})
    return plain
