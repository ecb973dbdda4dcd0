"""A line from engine to propeller: what the builder said, what was estimated, and the compiled library's view of it."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import TYPE_CHECKING, Any

from calmshaft import _core
from calmshaft.arguments import checked

if TYPE_CHECKING:
    from calmshaft.condition import Condition
    from calmshaft.line_file import Source
    from calmshaft.quantity import Quantity

LINES = Path(__file__).parent / "lines"
_PLATE = "plate-"  # file names of single plates beside the lines


@dataclass(frozen=True, eq=False)
class Line:
    """An immutable line. Compare, hash and pickle go by its document.

    name: of the file or sample. quantities: path -> Quantity (SI) of all physical values, estimates included.
    limits: key of [limits] -> Quantity (SI) with its document, what the user has entered and nothing else.
    core: the same as the compiled library takes it; read it only. warnings: Faults that do not stop a run.
    """

    name: str
    title: str
    quantities: Mapping[str, Quantity] = field(repr=False)
    limits: Mapping[str, Quantity] = field(repr=False)
    core: _core.Line = field(repr=False)
    warnings: tuple[_core.Fault, ...] = field(repr=False)
    _values: Mapping[str, Any] = field(repr=False)
    _canonical: str = field(repr=False)
    _source: Source = field(repr=False)

    @property
    def document(self) -> dict[str, Any]:
        """A copy of the plain dict that the line was made from."""
        document: dict[str, Any] = json.loads(self._canonical)
        return document

    @property
    def has_plate(self) -> bool:
        """False for a rigid drive, or where a coupling of the mass-elastic table stands in the plate's place."""
        return bool(self.core.plate.drive.stages)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Line) and self._canonical == other._canonical

    def __hash__(self) -> int:
        return hash(self._canonical)

    def __reduce__(self) -> tuple[Any, ...]:
        return line_from_document, (self.document, self.name)

    def paths(self) -> list[str]:
        """Every path of a physical value that can vary, and "plate.stiffness" where the plate has springs."""
        from calmshaft.build_readings import is_reading
        from calmshaft.line_edit import PLATE_STIFFNESS
        from calmshaft.schema_paths import kind_at

        shorthand = [PLATE_STIFFNESS] if self.has_plate else []
        readings = [path for path in self._values if is_reading(path)]
        return sorted([path for path in [*self.quantities, *readings] if kind_at(path)] + shorthand)

    @checked
    def replace(self, changes: Mapping[str, Any], keep: str = "stop torque") -> Line:
        """The line with other values: texts with units, or numbers where a key takes them.

        "plate.stiffness" is the slope of the last stage before the stop, on all sides given; keep says what stays
        with it, "stop torque" or "travel". Where a stage is changed of a plate that is given by springs or points, its
        stages take the place of these. Raises LineError with all faults.
        """
        from calmshaft.line_edit import PLATE_STIFFNESS, as_stages, changed, with_slope

        others = {path: value for path, value in changes.items() if path != PLATE_STIFFNESS}
        document = self.document
        if any(path.startswith("plate.stages[") for path in others):
            document = as_stages(document, self._values)
        line = line_from_document(changed(document, others, self.paths()), self.name) if others else self
        if PLATE_STIFFNESS not in changes:
            return line
        document = with_slope(line.document, line._values, changes[PLATE_STIFFNESS], keep)
        return line_from_document(document, self.name)

    @checked
    def with_plate(self, plate: Mapping[str, Any] | str | Path) -> Line:
        """The line with another plate: a plate file, or the dict of its [plate]. Raises LineError."""
        other = load_plate(plate) if isinstance(plate, str | Path) else dict(plate)
        return line_from_document({**self.document, "plate": other}, self.name)

    @checked
    def resolved(self, at: Condition) -> dict[str, Any]:
        """All that the integration uses at a condition, as plain SI numbers; key by key in python/docs/resolved.md.

        The fuelling is the solved one. Raises LineError where the condition does not fit the line.
        """
        from calmshaft.resolved import resolved

        return resolved(self, at)

    def explain(self, fault: _core.Fault) -> str:
        """A warning in words, with file and line where the line comes from a file."""
        from calmshaft.faults import said

        return said(fault, self.where(fault.path))

    def where(self, path: str) -> str:
        """ "launch.toml:14: " for a key of a line file; empty where the line comes from no file."""
        return self._source.where(path)


def line_from_document(document: Mapping[str, Any], name: str = "") -> Line:
    """A Line from the plain dict that a line file holds. Raises LineError with every fault."""
    from calmshaft.line_file import Source, plain  # the schema takes longer to load than the rest

    return _line(plain(dict(document)), Source(name))


def load_line(path: str | Path) -> Line:
    """A Line from a TOML file. Raises LineError with every fault, each with file and line."""
    from calmshaft.line_file import read

    return _line(*read(path))


def _line(document: dict[str, Any], source: Source) -> Line:
    from calmshaft.build_line import build
    from calmshaft.faults import line_error

    built = build(document)
    if built.core is None:
        raise line_error(built.faults, source.where)
    return Line(
        name=source.name,
        title=built.core.title or source.name,
        quantities=MappingProxyType(built.quantities),
        limits=MappingProxyType(built.limits),
        core=built.core,
        warnings=built.faults,
        _values=MappingProxyType(built.values),
        _canonical=json.dumps(document, sort_keys=True),
        _source=source,
    )


def load_plate(path: str | Path) -> dict[str, Any]:
    """The [plate] of a plate file, checked for keys, types and units. A sample's name will do. Raises LineError."""
    from calmshaft.line_file import load_plate as load

    sample = LINES / f"{path}.toml"
    return load(sample if str(path) in sample_plates() else path)


def sample_line(name: str) -> Line:
    """A shipped line, all data invented. Raises LineError for an unknown name."""
    from calmshaft.faults import Fault, line_error

    if name in sample_lines():
        return load_line(LINES / f"{name}.toml")
    near = _core.near_matches(name, sample_lines()) or sample_lines()
    raise line_error([Fault("sample", f'"{name}"', "is not a shipped line", f"write {' or '.join(near)}")])


def sample_lines() -> list[str]:
    """Names of the shipped lines."""
    return sorted(path.stem for path in LINES.glob("*.toml") if not path.stem.startswith(_PLATE))


def sample_plates() -> list[str]:
    """Names of the shipped single plates."""
    return sorted(path.stem for path in LINES.glob(f"{_PLATE}*.toml"))
