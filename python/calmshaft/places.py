"""Where a command writes to: looked at before any work, and named after the line, so that no result takes another's
place."""

from __future__ import annotations

import hashlib
import re
import tempfile
from collections.abc import Iterable
from pathlib import Path

from calmshaft.condition import HEALTHY, Condition, line_fault

PAGES = (".html", ".htm")
LONGEST = 80  # letters of a name before its ending


def into_folder(folder: Path | None, option: str = "--out") -> None:
    """Raises LineError where files cannot be written into that folder, which need not be there yet."""
    if folder is not None:
        _refuse(option, folder, _why_not(folder))


def into_file(file: Path | None, kinds: tuple[str, ...], option: str = "--out", example: str = "report") -> None:
    """Raises LineError where the name does not end in one of `kinds`, or that file cannot be written."""
    if file is not None:
        ends_in(file, kinds, option, example)
        _refuse(option, file, _why_not(file.parent))


def ends_in(file: Path, kinds: tuple[str, ...], option: str, example: str) -> None:
    """Raises LineError where the name does not end in one of `kinds`, or is a folder's."""
    advice = f"write for instance {option} {example}{kinds[0]}"
    if file.suffix not in kinds:
        raise line_fault(option, str(file), f"must end in {' or '.join(kinds)}", advice)
    _refuse(option, file, "a folder has that name" if file.is_dir() else "")


def _refuse(option: str, path: Path, why: str) -> None:
    if why:
        raise line_fault(option, str(path), f"cannot be written, {why}", "choose another place; nothing was begun")


def _why_not(folder: Path) -> str:
    """Why nothing can be written into a folder, empty where it can. What is missing of it would be made."""
    try:
        here = next(one for one in (folder, *folder.absolute().parents) if one.exists())
        if not here.is_dir():
            return f"{here} is a file and no folder"
        with tempfile.TemporaryDirectory(dir=here, prefix=".calmshaft-"):
            return ""
    except OSError as error:
        return (error.strerror or str(error)).lower()


def name_of(*words: str) -> str:
    """A file's name, without its ending, from a line's name and what else tells it from others."""
    parts = [re.sub(r"[^\w.+]+", "-", word.removesuffix(".toml")).strip("-.") for word in words]
    name = "-".join(part for part in parts if part) or "line"
    mark = hashlib.sha256(name.encode()).hexdigest()[:6]
    return name if len(name) <= LONGEST else f"{name[: LONGEST - 7]}-{mark}"


def name_at(name: str, at: Condition, *words: str) -> str:
    """The same for one condition of a line: "mine-800rpm-ahead"."""
    return name_of(name, f"{at.rpm:g}rpm", at.gear, *_unusual(at), *words)


def _unusual(at: Condition) -> Iterable[str]:
    if at.misfiring != HEALTHY:
        yield f"misfiring-{str(at.misfiring).replace('@', 'at').replace('%', '')}"
    if at.load != "under way":
        yield at.load
    if at.fuelling != "governed":
        yield at.fuelling
