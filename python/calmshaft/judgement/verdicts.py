"""One judgement, and the word for a value beside its limit.

Words are `within`, `near`, `over` and `not judged`; they say where a number stands against a limit and approve nothing.
"""

from __future__ import annotations

import math
from dataclasses import asdict, dataclass
from typing import Any

NEAR = 0.9  # [-] of a limit; ours


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

    def as_dict(self) -> dict[str, Any]:
        """Plain values, None for NaN."""
        plain = asdict(self)
        return {key: None if isinstance(value, float) and math.isnan(value) else value for key, value in plain.items()}


def against(value: float, limit: float) -> str:
    """The word for a value where more is worse."""
    if not math.isfinite(value):
        return "not judged"
    return "over" if value >= limit else "near" if value >= NEAR * limit else "within"
