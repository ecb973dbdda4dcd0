"""The flywheel: its inertia, or what it is found from."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from calmshaft.schema_fields import Inertia, PositiveDensity, PositiveLength, PositiveMass
from calmshaft.sections.readings import Hang
from calmshaft.sections.section import Section


class DiscHoles(Section):
    """A ring of round holes through a disc; `circle` is the diameter that they stand on."""

    count: Annotated[int, Field(ge=1, le=200)] | None = None
    diameter: PositiveLength = None
    circle: PositiveLength = None


class FlywheelDisc(Section):
    """One disc or ring of a flywheel that is measured by its sizes."""

    outer_diameter: PositiveLength = None
    thickness: PositiveLength = None
    bore: PositiveLength = None
    material: Literal["steel", "stainless", "grey iron", "ductile iron", "aluminium", "bronze"] | None = None
    density: PositiveDensity = None
    holes: list[DiscHoles] | None = None


class Flywheel(Section):
    """Inertia; or it hung on wires, or its discs; or mass and outer diameter, or the diameter alone."""

    inertia: Inertia = None
    mass: PositiveMass = None
    outer_diameter: PositiveLength = None
    discs: list[FlywheelDisc] | None = None
    hang: Hang | None = None
