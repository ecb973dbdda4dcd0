"""What can go wrong: LineError (the description; `.faults` has them all) and SolveError (the numbers)."""

from calmshaft._core import Fault, LineError, SolveError

__all__ = ["Fault", "LineError", "SolveError"]
