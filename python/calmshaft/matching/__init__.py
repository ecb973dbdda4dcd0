"""Calibration by ear: which plausible lines fall silent where the builder hears it, and what that tells of them."""

from calmshaft.matching.by_ear import match
from calmshaft.matching.found import Match, Matched, Nearest

__all__ = ["Match", "Matched", "Nearest", "match"]
