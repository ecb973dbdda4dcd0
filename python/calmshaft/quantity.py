"""A value with its range and where it comes from."""

import math
from dataclasses import dataclass
from typing import NamedTuple


class Band(NamedTuple):
    """A limit from one crank speed to another [rad/s], in SI, with its document."""

    low: float
    high: float
    value: float
    document: str


@dataclass(frozen=True, slots=True)
class Quantity:
    """One physical value of a line, SI and radians, with what is known about it.

    `source` is "measured", "maker", "estimated", "given" where the file does not say, or "derived" where it follows
    from other values of the file by `rule`; `low` and `high` bound the value; an estimated value names its rule and
    how to measure it instead; `as_written` is the text of the line file; `document` is where a limit stands, and
    `bands` the crank speeds that it belongs to, empty where it holds at every speed; `value` is then the least of all.
    """

    value: float
    source: str
    low: float
    high: float
    rule: str | None = None
    how_to_measure: str | None = None
    as_written: str | None = None
    document: str | None = None
    bands: tuple[Band, ...] = ()

    @property
    def everywhere(self) -> tuple[Band, ...]:
        """The ranges of speed with their limits; one over all speeds where it holds at every one."""
        return self.bands or (Band(0.0, math.inf, self.value, self.document or ""),)

    def at_speed(self, speed: float) -> Band | None:
        """The limit at a crank speed [rad/s], the narrower one where two meet; None where it belongs to others."""
        slack = 1e-6 * speed  # speeds that went through rpm and back
        here = [band for band in self.everywhere if band.low - slack <= speed <= band.high + slack]
        return min(here, key=lambda band: band.value, default=None)
