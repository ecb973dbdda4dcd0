"""What can go wrong: LineError (the description; `.faults` has them all) and SolveError (the numbers)."""

from collections.abc import Callable
from typing import Any

from calmshaft._core import Fault, LineError, SolveError

__all__ = ["Fault", "LineError", "SolveError", "all_of"]


def all_of(*steps: Callable[[], Any]) -> list[Any]:
    """What each step gives. Raises one LineError with the faults of every step that fails."""
    results, errors = [], []
    for step in steps:
        try:
            results.append(step())
        except LineError as error:
            errors.append(error)
    if errors:
        together = LineError("\n".join(str(error) for error in errors))
        together.faults = tuple(fault for error in errors for fault in error.faults)
        raise together
    return results
