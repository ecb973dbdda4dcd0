"""A sweep into a file: chunks kept as they finish, then one NetCDF or CSV file, then the chunks go."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calmshaft.designs import Design
from calmshaft.output import write_csv
from calmshaft.progress import bar
from calmshaft.results import blank_table
from calmshaft.storage.chunks import WHOLE, ChunkStore
from calmshaft.storage.table import assemble
from calmshaft.sweep_cost import refuse_no_room
from calmshaft.sweep_runs import Begun, ChunkCut, SweepInterrupted, Table, span
from calmshaft.walks import jumps_of

if TYPE_CHECKING:
    import xarray as xr

Chunks = Callable[[Iterable[int], Callable[[int], None] | None, Begun], Iterator[tuple[int, Table]]]


def parts_of(out: Path) -> Path:
    """The folder of finished chunks beside a result: ripple.parts of ripple.nc."""
    return out.with_suffix(".parts")


def sweep_into(
    out: Path,
    design: Design,
    about: Mapping[str, Any],
    manifest: Mapping[str, Any],
    chunks: Chunks,
    *,
    resume: bool,
    progress: bool,
) -> xr.Dataset:
    """Run the points that the folder lacks, then write `out` in one go. Returns the Dataset.

    chunks: tables of the chunks of these numbers, telling the points done, from what is begun of each. Raises
    LineError, OSError, SweepInterrupted; finished points stay for `resume` then.
    """
    count = manifest["chunk"]
    total = -(-design.size // count)
    with ChunkStore(parts_of(out), manifest, resume=resume) as store:
        kept = _points(design, store, count)
        refuse_no_room(design.size - kept, store.folder)
        missing = [number for number in range(total) if number not in store.finished]
        with _kept(store, design, about, count), bar(design.size, progress, kept) as report:
            for number, table in chunks(missing, report, store.read):
                store.write(number, table)
            whole = store.folder / WHOLE
            _assemble(whole, store, design, about, count)
            dataset = _finish(whole, out)
        store.remove()
    return dataset


def _assemble(path: Path, store: ChunkStore, design: Design, about: Mapping[str, Any], count: int) -> None:
    """All points as one file; those that no chunk has are blank."""
    spans = (span(design, number, count) for number in range(-(-design.size // count)))
    tables = ((start, store.read(start // count) or blank_table(end - start)) for start, end in spans)
    assemble(path, design.coords, design.shape, about, tables)
    if "direction" in design.dims:
        _add_jumps(path, design)


def _so_far(store: ChunkStore, design: Design, about: Mapping[str, Any], count: int) -> xr.Dataset:
    import xarray as xr

    with tempfile.TemporaryDirectory() as folder:
        _assemble(Path(folder) / WHOLE, store, design, about, count)
        with xr.open_dataset(Path(folder) / WHOLE, engine="h5netcdf") as dataset:
            return dataset.load()


def _add_jumps(whole: Path, design: Design) -> None:
    """Where the ways up and down differ, once both are there."""
    import xarray as xr

    with xr.open_dataset(whole, engine="h5netcdf") as dataset:
        jumps = jumps_of(dataset, design.line.core.engine.rated_torque).load()
    jumps.drop_vars(list(jumps.coords)).to_netcdf(whole, mode="a", engine="h5netcdf")


def _finish(whole: Path, out: Path) -> xr.Dataset:
    import xarray as xr

    if out.suffix == ".nc":
        os.replace(whole, out)
        return xr.open_dataset(out, engine="h5netcdf")
    with xr.open_dataset(whole, engine="h5netcdf") as dataset:
        write_csv(dataset.load(), out)
        return dataset


@contextmanager
def _kept(store: ChunkStore, design: Design, about: Mapping[str, Any], count: int) -> Iterator[None]:
    """Says with whatever stops the sweep how much of it is kept and how to go on."""

    def words(first: str = "") -> str:
        done = _points(design, store, count)
        if not done:
            return "no point is kept yet"
        return (
            f"{done:,} of {design.size:,} points are kept in {store.folder}: {first}go on with resume=True (--resume)"
        )

    try:
        yield
    except KeyboardInterrupt as stopped:
        if isinstance(stopped, ChunkCut):
            with suppress(OSError):  # a full disk: these points go, and `words` does not count them
                store.write(stopped.number, stopped.table)
        raise SweepInterrupted(partial(_so_far, store, design, about, count), f"interrupted; {words()}") from None
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        said = f"{reason}; {words('make room, then ')}"
        raise OSError(error.errno, said, str(error.filename or store.folder)) from error
    except Exception as error:
        error.add_note(words())
        raise


def _points(design: Design, store: ChunkStore, count: int) -> int:
    spans = (span(design, number, count) for number in store.finished)
    return sum(end - start for start, end in spans) + sum(store.begun.values())
