"""The plate from idle to rated speed, and its life over the duty diary."""

from __future__ import annotations

from typing import TYPE_CHECKING

from calmshaft.condition import Condition
from calmshaft.line import Line
from calmshaft.reports.parts import Part, Pictures, Points, Section, Table, Text, section
from calmshaft.runs import usual_gear

if TYPE_CHECKING:
    import xarray as xr

    from calmshaft.reports.figures import Pictures as Drawn

WEAK = "1@50%"  # what a healthy diary is compared with: any cylinder will do where they are alike


def over_speed(line: Line, ds: xr.Dataset | None, draw: Drawn) -> Section | None:
    """Twist, stages, stop, torque by the quantities of DIN 740-2, heat and warming."""
    if ds is None:
        return None
    from calmshaft.duty.over_speed_words import capacity_rows, sentences

    said = Points(tuple(f"{sentence[0].upper()}{sentence[1:]}." for sentence in sentences(line, ds)))
    rows = Table("What the plate carries at most, beside what its maker allows", capacity_rows(line, ds))
    return section("The plate over speed", Pictures(draw.plate_over_speed(ds)), said, rows)


def found_over_speed(line: Line, threads: int) -> xr.Dataset | None:
    """cs.plate_over_rpm where there is a plate."""
    if not line.has_plate:
        return None
    from calmshaft.duty import plate_over_rpm

    return plate_over_rpm(line, threads=threads)


def life(line: Line, threads: int) -> Section | None:
    """Work and spring fatigue over the diary, beside all cylinders firing; of a healthy diary with a weak cylinder."""
    if not line.has_plate or usual_gear(line) == "neutral":
        return None
    from calmshaft.diary import diary_of
    from calmshaft.duty import plate_life
    from calmshaft.duty.life_words import condition_rows, sentences

    healthy = diary_of(line).healthy
    found = plate_life(line, misfiring=WEAK if healthy else None, threads=threads)
    head = "Asked of the diary with one cylinder at half its strength in every condition:" if healthy else ""
    said = Points(tuple(f"{sentence[0].upper()}{sentence[1:]}." for sentence in sentences(found)))
    return section("The plate's life over the duty diary", Text(head), Table("Duty diary", condition_rows(found)), said)


def ladder(line: Line, at: Condition, threads: int) -> list[Part]:
    """Every cylinder at falling strength, as `calmshaft misfiring` has it."""
    from calmshaft.misfiring import misfiring_ladder
    from calmshaft.misfiring_words import ladder_rows

    found = misfiring_ladder(line, at, threads=threads)
    head = f"One cylinder at a time at falling strength, {at.rpm:g} rpm, {at.gear}"
    return [Table(head, ladder_rows(line, found)), Points(tuple(found.attrs["words"].splitlines()))]
