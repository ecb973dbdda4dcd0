"""A value with its range and where it comes from."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Quantity:
    """One physical value of a line, SI and radians, with what is known about it.

    `source` is "measured", "maker", "estimated", "given" where the file does not say, or "derived" where it follows
    from other values of the file by `rule`; `low` and `high` bound the value; an estimated value names its rule and
    how to measure it instead; `as_written` is the text of the line file; `document` is where a limit stands.
    """

    value: float
    source: str
    low: float
    high: float
    rule: str | None = None
    how_to_measure: str | None = None
    as_written: str | None = None
    document: str | None = None
