"""A mode in words: which springs are strained, what swings on them, where the nodes lie."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from calmshaft.linear.views import LinearView
from calmshaft.wording import listed

RIGID = "the whole line turns as one"
LOOSE = "parts turn freely of each other"
TEETH = "gear teeth"
_STRAINED = 0.25  # [-] share of a mode's strain energy from which a spring is named
_MOST_SPRINGS = 2  # named; the most strained first
_MOVES = 0.5  # [-] of the greatest amplitude, seen from the first station, from which a station is named
_FOLLOWS = 0.1  # [-] of it: twist of a free gear's teeth below which the gear only follows its mate
_TOGETHER = 1e-6  # [-] of the largest angle: rounding of a rigid body's shape
_STILL = 1e-9  # [-] of the largest angle: rounding


class Node(NamedTuple):
    """A place that stays still in a mode: the joint by name, and how far along its twist, 0 at its first station."""

    joint: str
    share: float


def strain_shares(view: LinearView, shape: np.ndarray) -> dict[str, float]:
    """Share [-] of a mode's strain energy by spring: joints, shaft pieces as one, and springs to the ground."""
    energy: dict[str, float] = {}
    for index, twist in enumerate(view.twist(shape)):
        name = _spring_name(view, index)
        energy[name] = energy.get(name, 0.0) + float(view.core.stiffness[index]) * float(twist) ** 2
    for name, stiffness, angle in zip(view.stations, view.core.ground_stiffness, shape, strict=True):
        if stiffness > 0:
            energy[f"the ground spring of {name}"] = stiffness * float(angle) ** 2
    total = sum(energy.values())
    return {name: part / total for name, part in energy.items()} if total > 0 else {}


def _spring_name(view: LinearView, index: int) -> str:
    kind, name = view.kinds[index], view.joints[index]
    if kind == "plate":
        return "the plate"
    if kind == "loaded mesh":
        return TEETH
    if kind == "unloaded mesh":
        return f"the teeth of {name}"
    return "the shaft" if name.split(" ")[0] == "shaft" else f"the spring {name}"


def in_words(view: LinearView, shape: np.ndarray, frequency: float) -> str:
    """What swings on what, e.g. "propeller on its shaft"; frequency [rad/s], shape (station,) own-shaft angles."""
    if frequency == 0:
        seen = shape / view.speed_ratios
        return RIGID if np.ptp(seen) < _TOGETHER * np.abs(seen).max() else LOOSE
    shares = strain_shares(view, shape)
    strained = sorted((name for name in shares if shares[name] >= _STRAINED), key=lambda name: -shares[name])
    if not strained:  # many springs alike: the most strained speaks for them
        strained = [max(shares, key=lambda name: shares[name])]
    if strained[0] == TEETH:
        return TEETH
    for name in view.joints:
        if strained[0] == f"the teeth of {name}":
            return f"{name} on its teeth"
    return _swinging(view, shape, strained)


def _swinging(view: LinearView, shape: np.ndarray, strained: list[str]) -> str:
    """ "A on the spring", or "A against B on the spring" where two ends swing alike."""
    one_way, other_way = _movers(view, shape)
    springs = listed(strained[:_MOST_SPRINGS])
    if other_way:
        return f"{_parts(one_way)} against {_parts(other_way)} on {springs}"
    if one_way == ["shaft"]:
        return "the shaft between its ends"
    return f"{_parts(one_way)} on {springs.replace('the shaft', 'its shaft') if one_way == ['propeller'] else springs}"


def _parts(names: list[str]) -> str:
    """ "A and B", or "A to D" of many: they stand in the order of the line."""
    return listed(names) if len(names) <= 2 else f"{names[0]} to {names[-1]}"


def _movers(view: LinearView, shape: np.ndarray) -> tuple[list[str], list[str]]:
    """Parts that move most, angles seen from the first station: those that go one way, and the other way."""
    seen = shape / view.speed_ratios
    followers = _followers(view, shape)
    amplitude = np.array([0.0 if station in followers else abs(angle) for station, angle in enumerate(seen)])
    moving = np.flatnonzero(amplitude >= _MOVES * amplitude.max())
    ways: tuple[list[str], list[str]] = ([], [])
    for station in moving:
        name, way = _part(view, station), ways[int(seen[station] * seen[moving[0]] < 0)]
        if name not in way and (name != "shaft" or amplitude[station] == amplitude.max()):
            way.append(name)
    return ways if ways[0] else (ways[1], ways[0])  # a piece of shaft between the ends may come first


def _part(view: LinearView, station: int) -> str:
    """A station by the part that it belongs to."""
    name = view.stations[station]
    if not any("mesh" in kind for kind in view.kinds):  # a chain: its user's own names
        return name
    if name in ("gearbox input", "gearbox output"):
        return "gearbox"
    return "shaft" if name.startswith("shaft ") else name


def _followers(view: LinearView, shape: np.ndarray) -> set[int]:
    """Free gears that go along with their mates."""
    _, second, _ = view.ends
    twist = np.abs(view.twist(shape))
    limit = _FOLLOWS * np.abs(shape).max()
    unloaded = (index for index, kind in enumerate(view.kinds) if kind == "unloaded mesh")
    return {int(second[index]) for index in unloaded if twist[index] < limit}


def nodes(view: LinearView, shape: np.ndarray) -> tuple[Node, ...]:
    """Where a mode stays still, outwards from the first station; stations held still are not counted."""
    first, second, ratio = view.ends
    still = _STILL * np.abs(shape).max()
    found = []
    for index in np.argsort(second, kind="stable"):
        name = view.joints[index]
        here, there = shape[first[index]], ratio[index] * shape[second[index]]
        if abs(there) <= still:
            if int(second[index]) not in view.core.fixed and view.kinds[index] != "gear pair":
                found.append(Node(name, 1.0))
        elif here * there < 0 and abs(here) > still:
            found.append(Node(name, float(here / (here - there))))
    return tuple(found)
