"""The sections and keys of a line file; each part of the line has its module in `sections`.

Keys, types and units are checked here; rules about values live in the compiled library's check(). Every key may
be left out as far as this file goes: what must be there is said in line_rules, so that all faults show at once.
"""

from __future__ import annotations

from calmshaft.sections.diary import Diary
from calmshaft.sections.engine import Engine
from calmshaft.sections.fit import Fit
from calmshaft.sections.flywheel import Flywheel
from calmshaft.sections.gearbox import Gearbox
from calmshaft.sections.limits import Limits
from calmshaft.sections.mass_elastic import MassElastic
from calmshaft.sections.plate import Plate
from calmshaft.sections.section import Section
from calmshaft.sections.shaft import Propeller, Shaft


class LineFile(Section):
    """A whole line file."""

    title: str | None = None
    engine: Engine | None = None
    flywheel: Flywheel | None = None
    plate: Plate | None = None
    gearbox: Gearbox | None = None
    shaft: Shaft | None = None
    propeller: Propeller | None = None
    mass_elastic: MassElastic | None = None
    limits: Limits | None = None
    fit: Fit | None = None
    diary: Diary | None = None


class PlateFile(Section):
    """A file with one plate."""

    title: str | None = None
    plate: Plate | None = None
