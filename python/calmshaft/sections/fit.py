"""The section [fit]: what plate, flywheel and gearbox must have in common to go together."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from calmshaft.schema_fields import PositiveLength
from calmshaft.sections.section import Section


class FitSide(Section):
    """One side: a plate's sheet, or what flywheel and gearbox ask for."""

    spline_count: Annotated[int, Field(ge=1)] | None = None
    spline_diameter: PositiveLength = None
    pilot_diameter: PositiveLength = None
    bolt_circle: PositiveLength = None
    bolt_count: Annotated[int, Field(ge=1)] | None = None
    depth: PositiveLength = None
    hub_stand_out: PositiveLength = None
    hub_side: Literal["flywheel", "gearbox", "either"] | None = None
    rotation: Literal["clockwise", "counter-clockwise", "either"] | None = None


class Fit(Section):
    """Judged by `choose` item by item; no part of the motion."""

    plate: FitSide | None = None
    line: FitSide | None = None
