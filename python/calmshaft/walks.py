"""Up and down an axis: each point starts from the end of its neighbour, and where the two ways settle differently."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft.results import STATUS

if TYPE_CHECKING:
    import xarray as xr

DIRECTIONS = ("up", "down", "both")
TOLERANCE = (
    1e-3  # of the value or of rated torque: what settled cycles may differ by, as the search for the state has it
)
APART = 10.0  # tolerances: two marches that close in on one state from both sides each stop short of it
COMPARED = ("mesh_torque_ripple", "mesh_torque_min", "unloaded_mesh_torque_ripple", "plate_torque_ripple")


@dataclass(frozen=True)
class Walk:
    """Points in columns of `column`, each begun with the end of the one before. direction: "up", "down" or "both"."""

    direction: str
    column: int

    @property
    def block(self) -> int:
        """Points that must be run together."""
        return self.column * (2 if self.direction == "both" else 1)

    def order(self, count: int) -> np.ndarray:
        """The points of whole blocks in the order in which they are walked."""
        rows = np.arange(count).reshape(-1, self.column)
        if self.direction == "down":
            rows = rows[:, ::-1]
        elif self.direction == "both":  # up and down by turns
            rows[1::2] = rows[1::2, ::-1].copy()
        return rows.ravel()


def jumps_of(ds: xr.Dataset, rated_torque: float) -> xr.DataArray:
    """Where the ways up and down settle on different states, of a sweep in both directions; rated_torque [N m].

    That is where one stalls and the other does not, or where a torque differs by more than ten tolerances of the
    search and no cycle of the one way reaches a cycle of the other.
    """
    up, down = ds.sel(direction="up", drop=True), ds.sel(direction="down", drop=True)
    stalled = STATUS.index("stalled")
    found = (up["status"] == stalled) != (down["status"] == stalled)
    for name in COMPARED:
        found |= _differ(up, down, name, rated_torque)
    about: dict[str, Any] = {"long_name": "the ways up and down settle on different states"}
    return found.rename("jumps").assign_attrs(about)


def _differ(up: xr.Dataset, down: xr.Dataset, name: str, rated_torque: float) -> xr.DataArray:
    ripple = name.replace("_min", "_ripple") + "_mean"
    scale = np.maximum(np.maximum(up[ripple], down[ripple]), rated_torque)
    lowest = np.maximum(up[f"{name}_lowest_cycle"], down[f"{name}_lowest_cycle"])
    highest = np.minimum(up[f"{name}_highest_cycle"], down[f"{name}_highest_cycle"])
    return lowest - highest > APART * TOLERANCE * scale
