"""The plates that are looked at: two stages, six traits, each anywhere in a practical range about the engine's torque.

All values are SI; a share of 0 to 1 is the place in a trait's range, evenly in the logarithm where `log` says so.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

import numpy as np

from calmshaft import _core, units
from calmshaft.build_line import given_values, rebuilt
from calmshaft.line import Line
from calmshaft.uncertainties.draws import drawn

DEGREE = math.pi / 180.0  # [rad]
LAST, FIRST, CORNER, STOP, PLAY, FRICTION = range(6)
LONGEST = 30 * DEGREE  # [rad] travel to the stop; common practice, no source
SHORTEST_STAGE = 0.5 * DEGREE  # [rad] of work in either stage; ours
AT_LEAST, AT_MOST = (True, False), (False, True)
OWN_KEYS = ("hub_inertia", "viscous_damping", "presliding_angle", "stop_restitution")  # kept of the line's own plate


@dataclass(frozen=True)
class Trait:
    """One thing to look for in a plate. low, high [SI]: ends of what is looked at. bounds: sides that can matter."""

    key: str
    words: str
    kind: str
    unit: str
    low: float
    high: float
    log: bool = False
    bounds: tuple[bool, bool] = (True, True)

    def at(self, share: np.ndarray) -> np.ndarray:
        """Values at shares of the range."""
        if self.log:
            return self.low * (self.high / self.low) ** share
        return self.low + (self.high - self.low) * share

    def share(self, value: Any) -> Any:
        """The inverse of at."""
        if self.log:
            return np.log(value / self.low) / math.log(self.high / self.low)
        return (value - self.low) / (self.high - self.low)

    def shown(self, value: float) -> float:
        """In the unit of the workshop."""
        return units.express(value, self.unit, self.kind)


def traits_for(torque: float) -> tuple[Trait, ...]:
    """The practical ranges, common practice without a source. torque: the engine's rated one [N m]."""
    stiffness = torque / DEGREE
    return (
        Trait("last_stage", "stiffness of the last stage", "torsional stiffness", "N*m/deg",
              stiffness / 20, stiffness / 2, log=True),
        Trait("first_stage", "stiffness of the first stage", "torsional stiffness", "N*m/deg",
              stiffness / 300, stiffness / 2, log=True),
        Trait("first_corner", "end of the first stage", "angle", "deg", 1.5 * DEGREE, 12 * DEGREE, bounds=AT_LEAST),
        Trait("stop_torque", "torque at the stop", "torque", "N*m", torque, 2.5 * torque, bounds=AT_LEAST),
        Trait("free_play", "free play, whole width", "angle", "deg", 0.0, 3 * DEGREE, bounds=AT_MOST),
        Trait("friction", "friction, whole width", "torque", "N*m", 0.005 * torque, 0.12 * torque, log=True),
    )  # fmt: skip


class Plates:
    """Every plate that could stand in a line, by its traits."""

    def __init__(self, line: Line) -> None:
        self.line = line
        self.traits = traits_for(line.quantities["engine.rated_torque"].value)
        own = line.document.get("plate", {})
        self._kept = {key: own[key] for key in OWN_KEYS if key in own}
        middle = np.array([[float(trait.at(np.array(0.5))) for trait in self.traits]])
        self._document = {**line.document, "plate": self.plate(middle[0])}
        self._given = given_values(self._document)[0]

    @property
    def bounds(self) -> np.ndarray:
        """(trait, low and high): whether that side may be cut."""
        return np.array([trait.bounds for trait in self.traits])

    def values(self, shares: np.ndarray) -> np.ndarray:
        """Traits [SI] by (plate, trait) from shares of their ranges."""
        return np.stack([trait.at(share) for trait, share in zip(self.traits, shares.T, strict=True)], axis=-1)

    def shares(self, values: np.ndarray) -> np.ndarray:
        """The inverse of values."""
        return np.stack([trait.share(value) for trait, value in zip(self.traits, values.T, strict=True)], axis=-1)

    def draw(self, low: np.ndarray, high: np.ndarray, count: int, seed: int) -> np.ndarray:
        """Up to `count` shares of plates that can be, evenly between two corners of shares. Latin hypercube."""
        kept = np.empty((0, len(self.traits)))
        for again in range(4):
            shares = low + (high - low) * drawn("latin", 2 * count, len(self.traits), seed + 1000 * again)
            kept = np.concatenate([kept, shares[can_be(self.values(shares))]])[:count]
        return kept

    def core(self, values: np.ndarray) -> _core.Line:
        """The line with one of the plates, without the schema: much faster."""
        plate = flat(values)
        return rebuilt(self._given | plate, self._document, lambda path, spread: spread[0])[0]

    def plate(self, values: np.ndarray) -> dict[str, Any]:
        """The same as [plate] of a line file. What is not a trait is the line's own plate's, or estimated."""
        text = {path: units.write(value, _KINDS[path.rpartition(".")[2]]) for path, value in flat(values).items()}
        top = {path.removeprefix("plate."): one for path, one in text.items() if "[" not in path}
        stages = [{key: text[f"plate.stages[{n}].{key}"] for key in ("stiffness", "until")} for n in (0, 1)]
        return {"title": "looked for", **self._kept, **top, "stages": stages}


_KINDS = {
    "free_play": "angle",
    "hysteresis_full_width": "torque",
    "stop_angle": "angle",
    "stiffness": "torsional stiffness",
    "until": "angle",
}


def flat(values: np.ndarray) -> dict[str, float]:
    """Path -> value [SI] of a plate."""
    last, first, corner, _, play, friction = (float(value) for value in values)
    stop = float(stop_angle(values))
    return {
        "plate.free_play": play,
        "plate.hysteresis_full_width": friction,
        "plate.stop_angle": stop,
        "plate.stages[0].stiffness": first,
        "plate.stages[0].until": corner,
        "plate.stages[1].stiffness": last,
        "plate.stages[1].until": stop,
    }


def first_torque(values: np.ndarray) -> np.ndarray:
    """Torque that the first stage carries at its end [N m]: k (corner - play / 2)."""
    return values[..., FIRST] * (values[..., CORNER] - 0.5 * values[..., PLAY])


def stop_angle(values: np.ndarray) -> np.ndarray:
    """From the middle of the free play [rad], where the springs carry the torque at the stop."""
    return values[..., CORNER] + (values[..., STOP] - first_torque(values)) / values[..., LAST]


def can_be(values: np.ndarray) -> np.ndarray:
    """Whether a plate could be bought: stages that stiffen, both of some length, and no more travel than there is."""
    stages = values[..., FIRST] <= values[..., LAST]
    first = values[..., CORNER] - 0.5 * values[..., PLAY] >= SHORTEST_STAGE
    last = stop_angle(values) - values[..., CORNER] >= SHORTEST_STAGE
    return stages & first & last & (stop_angle(values) <= LONGEST)
