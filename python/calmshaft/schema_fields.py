"""How one physical value stands in a line file: "92 mm", or { value = "92 mm", source = "measured", range = "1 %" }.

In place of the range may stand its two ends, low = "91 mm" and high = "92.5 mm".
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler
from pydantic_core import CoreSchema, core_schema

from calmshaft import units, written_ranges
from calmshaft.quantity import Band, Quantity
from calmshaft.written_ranges import value_error

SOURCES = ("measured", "maker", "estimated", "given")
_KEYS = {"value", "source", *written_ranges.KEYS}
_LIMIT_KEYS = {"value", "document", "from", "to"}


@dataclass(frozen=True)
class Physical:
    """Marks a key as a physical value of one kind; `positive` where no later check sees the value itself."""

    kind: str
    positive: bool = False

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(self.read)

    def read(self, written: Any) -> Quantity:
        """The Quantity that was written. Raises PydanticCustomError."""
        table = written if isinstance(written, dict) else {"value": written}
        if odd := sorted(set(table) - _KEYS):
            raise value_error(f"{odd[0]} is not a key of a value", "write value, source, and range or low and high")
        if "value" not in table:
            raise value_error("value is missing", f'write {{ value = "{self._kind.example}", source = "measured" }}')
        source = table.get("source", "given")
        if source not in SOURCES:
            raise value_error(f"{source!r} is not a source", 'write "measured", "maker" or "estimated"')
        value = self._number(table["value"])
        low, high = written_ranges.ends(table, value, self._parsed, self.positive, self._kind.example)
        return Quantity(value, source, low, high, as_written=str(table["value"]))

    @property
    def _kind(self) -> units.Kind:
        return units.kind_named(self.kind)

    def _number(self, written: Any) -> float:
        value = self._parsed(written)
        if self.positive and not value > 0:
            raise value_error("must be more than zero", f'write for instance "{self._kind.example}"')
        return value

    def _parsed(self, written: Any) -> float:
        if isinstance(written, str):
            try:
                return units.parse(written, self.kind)
            except units.UnitError as error:
                raise value_error(error.rule, error.advice) from None
        example = f'write for instance "{self._kind.example}"'
        if isinstance(written, bool) or not isinstance(written, int | float) or not math.isfinite(written):
            raise value_error(f"{self._kind.words} is needed", example)
        if self._kind.bare is None:
            raise value_error("a unit is needed", example)
        return units.convert(float(written), self._kind.bare, self.kind)


_SPEED, _SPEEDS = Physical("speed", positive=True), (("from", 0.0), ("to", math.inf))


@dataclass(frozen=True)
class Limit(Physical):
    """Marks a limit that the user enters: { value = "75 N*m", document = "gearbox maker's sheet" }.

    With from = "600 rpm" and to = "1200 rpm" it belongs to these speeds; a list holds one for each range.
    """

    positive: bool = True

    def read(self, written: Any) -> Quantity:
        """The Quantity with its document, of a list one with bands of speed. Raises PydanticCustomError."""
        bands = [self._band(one) for one in written] if isinstance(written, list) else [self._band(written)]
        if not bands:
            raise value_error("an empty list is no limit", f"write {self._example}")
        bands.sort(key=lambda band: band.low)
        for lower, upper in pairwise(bands):
            if upper.low < lower.high:
                raise value_error(
                    "two of its speed ranges overlap", "write from and to so that each begins where one ends"
                )
        least = min(band.value for band in bands)
        document = "; ".join(dict.fromkeys(band.document for band in bands))
        text = "; ".join(str(one.get("value")) for one in (written if isinstance(written, list) else [written]))
        everywhere = len(bands) == 1 and bands[0][:2] == (0.0, math.inf)
        return Quantity(least, "given", least, least, as_written=text, document=document,
                        bands=() if everywhere else tuple(bands))  # fmt: skip

    @property
    def _example(self) -> str:
        return f'{{ value = "{self._kind.example}", document = "name, clause, edition" }}'

    def _band(self, written: Any) -> Band:
        table = written if isinstance(written, dict) else {"value": written}
        if odd := sorted(set(table) - _LIMIT_KEYS):
            raise value_error(f"{odd[0]} is not a key of a limit", f"write {self._example}")
        if "value" not in table:
            raise value_error("value is missing", f"write {self._example}")
        value = self._number(table["value"])
        document = table.get("document")
        if not isinstance(document, str) or not document.strip():
            raise value_error("a limit needs the document that it stands in", f"write {self._example}")
        low, high = (_SPEED._number(table[key]) if key in table else end for key, end in _SPEEDS)
        if low >= high:
            raise value_error(
                "its speed range ends before it begins", 'write for instance from = "600 rpm", to = "1200 rpm"'
            )
        return Band(low, high, value, document.strip())


def _of(kind: str, positive: bool = False) -> Any:
    return Annotated[Quantity | None, Physical(kind, positive)]


def _limit(kind: str) -> Any:
    return Annotated[Quantity | None, Limit(kind)]


Pure, PositivePure = _of("pure"), _of("pure", positive=True)
PositiveShare = _of("share", positive=True)
Speed, PositiveSpeed = _of("speed"), _of("speed", positive=True)
Length, PositiveLength = _of("length"), _of("length", positive=True)
Mass, PositiveMass = _of("mass"), _of("mass", positive=True)
Inertia = _of("inertia")
PositiveForce = _of("force", positive=True)
Torque, PositiveTorque = _of("torque"), _of("torque", positive=True)
Angle = _of("angle")
Stiffness, MeshStiffness = _of("torsional stiffness"), _of("mesh stiffness")
Damping = _of("damping")
SlowSpeed = _of("slow speed")
PositivePower = _of("power", positive=True)
PositiveTime = _of("time", positive=True)
Pressure = _of("pressure")
PressurePerSpeed = _of("pressure per speed")
PressurePerSpeedSquared = _of("pressure per speed squared")
PositiveStress = _of("stress", positive=True)
PositiveDensity = _of("density", positive=True)
TorqueLimit, AngleLimit, PowerLimit, StressLimit, PureLimit = map(
    _limit, ("torque", "angle", "power", "stress", "pure")
)
