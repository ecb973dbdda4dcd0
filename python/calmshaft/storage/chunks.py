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
OURS = (MANIFEST, LOCK, WHOLE, "chunk-", "begun-", ".chunk-", ".begun-", ".manifest-")  # a dot: half written
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
            self.finished = self._whole("chunk")
            self.begun = {number: self._reached(number) for number in self._whole("begun") - self.finished}
            self._agree(resume)
        except BaseException:
            self._unlock()
            raise

    def __enter__(self) -> ChunkStore:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def write(self, number: int, table: Mapping[str, Any]) -> None:
        """Keep a chunk, or what is finished of one that was cut short (status -1: not reached). Raises OSError."""
        reached = table["status"] >= 0
        if not reached.any():
            return
        whole = bool(reached.all())
        arrays = {name: values for name, values in table.items() if isinstance(values, np.ndarray)}
        write_whole(self._path(number, "chunk" if whole else "begun"), lambda fresh: np.savez(fresh, **arrays))
        if not whole:
            self.begun[number] = int(reached.sum())
            return
        self.finished.add(number)
        if self.begun.pop(number, None) is not None:
            self._path(number, "begun").unlink(missing_ok=True)

    def read(self, number: int) -> dict[str, np.ndarray] | None:
        """The arrays of a chunk as far as it is finished; None where no point of it is."""
        if number not in self.finished and number not in self.begun:
            return None
        with np.load(self._path(number, "chunk" if number in self.finished else "begun"), allow_pickle=False) as file:
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
        if not (self.finished or self.begun):
            self.remove()
        self._unlock()

    def _unlock(self) -> None:
        os.close(self._lock)
        _held.discard(self._name)

    def _path(self, number: int, kind: str) -> Path:
        return self.folder / f"{kind}-{number:07d}.npz"

    def _reached(self, number: int) -> int:
        with np.load(self._path(number, "begun"), allow_pickle=False) as file:
            return int((file["status"] >= 0).sum())

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
        if not (self.finished or self.begun):
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

    def _whole(self, kind: str) -> set[int]:
        """Numbers of the files that read back whole; a damaged one counts as not done and is written anew."""
        return {int(path.stem.removeprefix(f"{kind}-")) for path in self.folder.glob(f"{kind}-*.npz") if _whole(path)}


def _whole(path: Path) -> bool:
    try:
        with zipfile.ZipFile(path) as file:
            return file.testzip() is None
    except (OSError, zipfile.BadZipFile):
        return False
