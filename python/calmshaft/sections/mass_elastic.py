"""A maker's mass-elastic table."""

from __future__ import annotations

from typing import Literal

from pydantic import create_model

from calmshaft.schema_fields import Damping, Inertia, MeshStiffness, PositivePure
from calmshaft.sections.engine import CylinderNumber
from calmshaft.sections.section import Section


class TableShaft(Section):
    """A shaft of a mass-elastic table and its speed over the crank's."""

    name: str | None = None
    speed_ratio: PositivePure = None


class TableMass(Section):
    """A mass of a table; `part` where it is a station of the line, `cylinder` where it is a throw of the crank."""

    name: str | None = None
    inertia: Inertia = None
    shaft: str | None = None
    part: Literal["flywheel", "gearbox input", "gearbox output", "propeller"] | None = None
    cylinder: CylinderNumber | None = None


class _Ends(Section):
    stiffness: MeshStiffness = None
    damping: Damping = None


# `from` is a word of Python's own, so this section is made by its names.
TableConnection = create_model(
    "TableConnection",
    __base__=_Ends,
    __doc__="A spring between two masses of a table; without stiffness a gear pair between two shafts.",
    **{"from": (str | None, None), "to": (str | None, None)},
)


class MassElastic(Section):
    """A maker's table beside the other sections, or in place of some of them."""

    shafts: list[TableShaft] | None = None
    masses: list[TableMass] | None = None
    connections: list[TableConnection] | None = None  # type: ignore[valid-type]
