"""Reading line files and plate files: limits, TOML, and the line on which each fault stands."""

from __future__ import annotations

import json
import re
import tomllib
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from calmshaft import _core
from calmshaft.faults import Fault, line_error, validated
from calmshaft.line import LINES
from calmshaft.toml_lines import key_lines, nearest_line

LARGEST = 256_000  # bytes; a line file has a few thousand
_POSITION = re.compile(r"\s*\(at (?:line (\d+), column \d+|end of document)\)")


@dataclass
class Source:
    """Where a document comes from: the name for messages, and the text to find line numbers in."""

    name: str
    text: str = ""
    _lines: dict[str, int] | None = field(default=None, repr=False)

    def where(self, path: str) -> str:
        """ "launch.toml:14: " for a key; the name alone where the text does not tell."""
        if self._lines is None:
            self._lines = key_lines(self.text)
        number = nearest_line(self._lines, path)
        if not self.name:
            return ""
        return f"{self.name}:{number}: " if number else f"{self.name}: "


def read(path: str | Path) -> tuple[dict[str, Any], Source]:
    """The document of a TOML file and its source. Raises LineError where it cannot be read."""
    path = Path(path)
    text = _text(path)
    try:
        document = tomllib.loads(text)
    except RecursionError:
        raise _refused(path.name, "is nested too deeply", "write a line file of sections and keys") from None
    except ValueError as error:
        raise _not_toml(path.name, str(error)) from None
    if not document:
        raise _refused(path.name, "says nothing", "start from a sample: calmshaft new NAME.toml")
    return plain(document), Source(path.name, text)


def plain(document: dict[str, Any]) -> dict[str, Any]:
    """A copy of a document in plain JSON types; dates and the like become text."""
    copied: dict[str, Any] = json.loads(json.dumps(document, default=str))
    return copied


def _refused(name: str, rule: str, advice: str) -> _core.LineError:
    return line_error([Fault(name, "", rule, advice)])


def _text(path: Path) -> str:
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except OSError as error:
        shipped = sorted(other.stem for other in LINES.glob("*.toml")) if path.parent == Path() else []
        beside = sorted(other.name for other in path.parent.glob("*.toml"))
        near = _core.near_matches(path.name, [*beside, *shipped])
        advice = f"did you mean {near[0]}?" if near else "look at the name and the folder"
        reason = (error.strerror or "no file").lower()
        raise _refused(path.name or str(path), f"cannot be read ({reason})", advice) from None
    if len(content) > LARGEST:
        raise _refused(
            path.name, f"is larger than {LARGEST // 1000} kB", "a line file is a short text; look at the name"
        )
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        text = "\0"
    if "\0" in text:
        raise _refused(path.name, "is not a text file", "give a line file in TOML, saved as UTF-8")
    return text.replace("\r\n", "\n")


def _not_toml(name: str, message: str) -> _core.LineError:
    found = _POSITION.search(message)
    where = f"{name}:{found[1]}" if found and found[1] else name
    reason = _POSITION.sub("", message).rstrip(".")
    advice = 'write key = value, a value with its unit in quotes: bore = "92 mm"; sections as [engine]'
    return _refused(where, f"is not TOML: {reason[:1].lower()}{reason[1:][:120]}", advice)


def load_plate(path: str | Path) -> dict[str, Any]:
    """The [plate] of a plate file or line file, checked for keys, types and units. Raises LineError."""
    document, source = read(path)
    plate = document.get("plate")
    if not isinstance(plate, dict):
        raise line_error([Fault("plate", "", "is missing", "a plate file holds one section [plate]")], source.where)
    _, faults = validated({"plate": plate})
    if faults:
        raise line_error(faults, source.where)
    return plate
