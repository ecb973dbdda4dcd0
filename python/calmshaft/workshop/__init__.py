"""From what calipers, scale and torque wrench say to the values of a line, and back to single parts."""

from __future__ import annotations

from importlib import import_module
from typing import Any

# name -> module; loaded when first asked for
_HOMES = {
    "Spring": "springs",
    "plate_alone": "plate_by_itself",
    "plate_springs": "plate_twist",
    "tensile_strength": "springs",
}
__all__ = sorted(_HOMES)


def __getattr__(name: str) -> Any:
    if name in _HOMES:
        return getattr(import_module(f"{__name__}.{_HOMES[name]}"), name)
    raise AttributeError(f"module {__name__!r} has no attribute {name!r}")
