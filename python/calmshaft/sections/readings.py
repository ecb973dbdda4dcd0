"""What is read in the workshop in the place of a value: the line file holds readings, the value is worked out."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from calmshaft.schema_fields import Inertia, PositiveForce, PositiveLength, PositiveMass, PositivePure, PositiveTime
from calmshaft.sections.section import Section

Swings = Annotated[int, Field(ge=1, le=1000)]


class Hang(Section):
    """A part hung on three wires; `time` of so many full swings, 0.2 s off by hand where it has no range."""

    mass: PositiveMass = None
    wire_radius: PositiveLength = None
    wire_length: PositiveLength = None
    swings: Swings | None = None
    time: PositiveTime = None
    table_mass: PositiveMass = None
    table_inertia: Inertia = None


class RodScales(Section):
    """A rod lying level on two scales, one under each end."""

    big_end: PositiveMass = None
    small_end: PositiveMass = None


class RodSwing(Section):
    """A rod that swings on a knife edge in its small end; `time` as of a part on three wires."""

    edge_to_centre: PositiveLength = None
    swings: Swings | None = None
    time: PositiveTime = None


class Pull(Section):
    """A steady pull on a cord round a gear; `division` of the scale is its error where the force has no range."""

    force: PositiveForce = None
    division: PositiveForce = None
    radius: PositiveLength = None
    ratio: PositivePure = None


class ShaftPull(Pull):
    """The same round the input or the output flange of the gearbox."""

    shaft: Literal["input", "output"] | None = None


class Dial(Section):
    """A dial gauge on the shaft that is not held, rocked from stop to stop; `division` as that of a scale."""

    travel: PositiveLength = None
    division: PositiveLength = None
    radius: PositiveLength = None
    held: Literal["input", "output"] | None = None
    ratio: PositivePure = None


class TwoWeights(Section):
    """Two weights in turn, each let fall from rest on a cord round the input in neutral, and the times they take."""

    radius: PositiveLength = None
    fall: PositiveLength = None
    mass_1: PositiveMass = None
    time_1: PositiveTime = None
    mass_2: PositiveMass = None
    time_2: PositiveTime = None
