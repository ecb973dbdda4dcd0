"""A folder of finished chunks: each whole or not there, one sweep at a time, safe against kill -9."""

from __future__ import annotations

import fcntl
import json
import os
import shutil
import socket
import zipfile
from collections.abc import Mapping
from contextlib import suppress
from pathlib import Path
from typing import Any

import numpy as np

from calmshaft.condition import line_fault
from calmshaft.output import write_text, write_whole
from calmshaft.storage.manifest import differences_in_words

MANIFEST, LOCK, WHOLE = "manifest.json", "lock", "whole.nc"
OURS = (MANIFEST, LOCK, WHOLE, "chunk-", ".chunk-", ".manifest-")  # with folders of files half written
_held: set[str] = set()  # folders that this process writes: a file lock does not stop the process that has it


class ChunkStore:
    """Tables of a sweep by chunk number, in a folder that one sweep writes at a time (a context manager).

    The lock is the kernel's and dies with its process, so one left by a killed sweep stops nobody, and worker
    processes do not inherit it. Raises LineError where the folder belongs to another sweep or is in use,
    OSError where it cannot be written.
    """

    def __init__(self, folder: str | Path, manifest: Mapping[str, Any], *, resume: bool):
        self.folder, self.manifest = Path(folder), dict(manifest)
        self._take_lock()
        try:
            self.finished = self._whole_chunks()
            self._agree(resume)
        except BaseException:
            self._unlock()
            raise

    def __enter__(self) -> ChunkStore:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def write(self, number: int, table: Mapping[str, Any]) -> None:
        """Keep a chunk. Raises OSError."""
        arrays = {name: values for name, values in table.items() if isinstance(values, np.ndarray)}
        write_whole(self._path(number), lambda fresh: np.savez(fresh, **arrays))
        self.finished.add(number)

    def read(self, number: int) -> dict[str, np.ndarray]:
        """The arrays of a finished chunk."""
        with np.load(self._path(number), allow_pickle=False) as file:
            return {name: file[name] for name in file.files}

    def remove(self) -> None:
        """Delete what the sweep has put there, and the folder where nothing else is in it."""
        for path in self.folder.iterdir():
            if path.name.startswith(OURS):
                shutil.rmtree(path) if path.is_dir() else path.unlink()
        with suppress(OSError):
            self.folder.rmdir()

    def close(self) -> None:
        """Let another sweep have the folder, which goes where nothing is finished in it."""
        if not self.finished:
            self.remove()
        self._unlock()

    def _unlock(self) -> None:
        os.close(self._lock)
        _held.discard(self._name)

    def _path(self, number: int) -> Path:
        return self.folder / f"chunk-{number:07d}.npz"

    def _take_lock(self) -> None:
        self.folder.mkdir(parents=True, exist_ok=True)
        self._name = str(self.folder.resolve())
        if self._name in _held:
            raise self._in_use("this process")
        self._lock = os.open(self.folder / LOCK, os.O_RDWR | os.O_CREAT, 0o644)
        try:
            fcntl.lockf(self._lock, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError as error:
            holder = os.read(self._lock, 200).decode(errors="replace") or "another process"
            os.close(self._lock)
            raise (self._in_use(holder) if isinstance(error, BlockingIOError | PermissionError) else error) from None
        os.ftruncate(self._lock, 0)
        os.pwrite(self._lock, f"process {os.getpid()} on {socket.gethostname()}".encode(), 0)
        _held.add(self._name)

    def _in_use(self, holder: str) -> Exception:
        advice = "wait for it, or write to another file"
        return line_fault("out", str(self.folder), f"is being written by {holder}", advice)

    def _agree(self, resume: bool) -> None:
        path = self.folder / MANIFEST
        if not self.finished:
            write_text(json.dumps(self.manifest, indent=1, sort_keys=True), path)
            return
        there = self._read_manifest(path)
        words = differences_in_words(there, self.manifest)
        if words:
            advice = "go on with what it was begun with, write to another file, or delete the folder"
            raise line_fault("out", str(self.folder), f"holds chunks of another sweep: {words}", advice)
        if not resume:
            advice = "go on with resume=True (--resume), or delete the folder to begin again"
            raise line_fault("out", str(self.folder), "holds chunks of this sweep", advice)

    def _read_manifest(self, path: Path) -> Any:
        try:
            return json.loads(path.read_text(encoding="utf-8"))
        except (FileNotFoundError, ValueError):
            advice = "write to another file, or delete the folder"
            raise line_fault("out", str(path), "does not say whose the chunks beside it are", advice) from None

    def _whole_chunks(self) -> set[int]:
        """Numbers of the chunks that read back whole; a damaged one counts as not done and is written anew."""
        return {int(path.stem.removeprefix("chunk-")) for path in self.folder.glob("chunk-*.npz") if _whole(path)}


def _whole(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as file:
            return file.testzip() is None
    except (OSError, zipfile.BadZipFile):
        return False
