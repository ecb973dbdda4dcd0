"""One judgement, and the value and word for a value beside its limit.

Words are `within`, `near`, `over` and `not judged`; they say where a number stands against a limit and approve nothing.
"""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from calmshaft.runs import Run

NEAR = 0.9  # [-] of a limit; ours
CRANK = "crankshaft stress and front end"
RIGID_CRANK = "the crank is taken as rigid here; that is for the calculation of its maker or of the class society"


@dataclass(frozen=True, slots=True)
class Judgement:
    """One thing judged.

    word: "within", "near", "over" or "not judged". finding: what was found, in words with numbers. value and limit
    [unit], NaN where there is none. matters: whether not being judged leaves something open that could do harm.
    document: where the limit stands, for one that was entered.
    """

    subject: str
    word: str
    finding: str
    value: float = math.nan
    limit: float = math.nan
    unit: str = ""
    matters: bool = True
    document: str = ""

    @property
    def margin(self) -> float:
        """What is left up to the limit, as a share of it [-]; below zero where it is exceeded, NaN without a limit."""
        return 1 - self.value / self.limit if self.limit else math.nan

    def as_dict(self) -> dict[str, Any]:
        """Plain values, None for NaN."""
        plain = {**asdict(self), "margin": self.margin}
        return {key: None if isinstance(value, float) and math.isnan(value) else value for key, value in plain.items()}


def against(value: float, limit: float) -> str:
    """The word for a value where more is worse."""
    if not math.isfinite(value):
        return "not judged"
    return "over" if value >= limit else "near" if value >= NEAR * limit else "within"


def worst(run: Run, name: str, cycle: str) -> float:
    """An extreme value, of the worst cycle where the motion does not repeat."""
    value = run.measures[name]
    return run.spread[name][cycle] if math.isnan(value) and run.spread[name]["cycles"] else value
