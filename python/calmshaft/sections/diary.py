"""[diary]: what the boat does, and for how much of its hours."""

from __future__ import annotations

from typing import Literal

from calmshaft.schema_fields import PositiveShare, PositiveSpeed, Pure
from calmshaft.sections.section import Section


class DiaryCondition(Section):
    """One steady condition and its share of the hours."""

    name: str | None = None
    share: PositiveShare = None
    rpm: PositiveSpeed = None
    gear: Literal["ahead", "astern", "neutral"] | None = None
    load: str | None = None
    misfiring: str | None = None


class Diary(Section):
    """Conditions whose shares add up to 100 %, and how often it is shifted and started; no part of the motion."""

    conditions: list[DiaryCondition] | None = None
    shifts_per_hour: Pure = None
    starts_per_hour: Pure = None
