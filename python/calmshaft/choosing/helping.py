"""Where no plate meets the limits: which limit is in the way, and whether another idle speed or flywheel helps."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from calmshaft import units
from calmshaft.choosing.aims import aims_of
from calmshaft.choosing.explore import Explored
from calmshaft.choosing.plates import Plates
from calmshaft.choosing.search import MEETS, Search
from calmshaft.condition import Condition
from calmshaft.errors import LineError
from calmshaft.line import Line
from calmshaft.wording import number, percent

RPM = math.pi / 30.0  # [rad/s]
WHEEL = "flywheel.inertia"
TRIED = 96  # plates that another line is tried with
IDLE_STEPS = 4  # up to the speed at which the gear may be shifted
LEAST_STEP = 50.0  # [rpm]
HEAVIER = (1.5, 2.0, 3.0)  # [-] times the flywheel's inertia


@dataclass(frozen=True)
class Unmet:
    """reasons: which limits are missed, in words. helps: what was tried with the same plates, in words."""

    reasons: tuple[str, ...]
    helps: tuple[str, ...]


def unmet(search: Search, found: Explored) -> Unmet:
    """Why there is no window, and what would help."""
    return Unmet(_reasons(search, found), _helps(search, found))


def _reasons(search: Search, found: Explored) -> tuple[str, ...]:
    """For each limit how many of the first plates meet it by itself, and the condition that stops most."""
    said = []
    for aim in search.aims.all:
        rows = {at: found.pilot[at, aim.key] for at in aim.conditions}
        meets = int((~np.any(list(rows.values()), axis=0)).sum())
        worst = max(rows, key=lambda at: int(rows[at].sum()))
        where = f", most of all at {number(worst.rpm)} rpm" if len(rows) > 1 and rows[worst].any() else ""
        count = len(rows[worst])
        met = f"met by {meets} of {count} plates" if meets else f"cannot be met by any of {count} plates"
        said.append(f"{aim.words}: {met}{where}")
    good = int(found.looked.good.sum())
    if good:
        said.append(f"{good} of {len(found.looked.shares)} plates meet all limits, too scattered for ranges that hold")
    return tuple(said)


def _helps(search: Search, found: Explored) -> tuple[str, ...]:
    """The plates that came furthest, in lines with more idle speed or a heavier flywheel."""
    tried = _furthest(search, found)
    before = _meeting(search.plates.line, search, tried)
    said = []
    for words, line in _others(search.plates.line):
        try:
            share = _meeting(line, search, tried)
        except LineError:
            continue
        if share > before:
            said.append(f"{words}: {percent(share)} of {len(tried)} plates meet all limits, now {percent(before)}")
    return tuple(said) or ("neither more idle speed nor a heavier flywheel, nor both together, as far as was tried",)


def _furthest(search: Search, found: Explored) -> np.ndarray:
    """Those turned down by the latest condition in the order of looking."""
    place = {aim.key: n for n, at in enumerate(search.order) for aim in search.aims.at(at)} | {MEETS: len(search.order)}
    rank = np.array([place.get(one, -1) for one in found.looked.verdict])
    return found.looked.shares[np.argsort(-rank, kind="stable")[:TRIED]]


def _meeting(line: Line, search: Search, shares: np.ndarray) -> float:
    other = Search(Plates(line), aims_of(line), search.threads)
    other.order = _order(other, search)
    return float((other.judge(shares) == MEETS).mean())


def _order(other: Search, search: Search) -> list[Condition]:
    """The conditions of the other line that stand in the places of the deciding ones of this."""
    mine, places = search.aims.conditions, other.aims.conditions
    return [places[mine.index(at)] for at in search.order if mine.index(at) < len(places)]


def _others(line: Line) -> list[tuple[str, Line]]:
    """In words and as a line: more idle speed, a heavier flywheel, and both together as far as either goes."""
    idle, shift = (line.quantities[f"engine.{key}"].value / RPM for key in ("idle_rpm", "max_shift_rpm"))
    step = max((shift - idle) / IDLE_STEPS, LEAST_STEP)
    speeds = [round(idle + step * n) for n in range(1, IDLE_STEPS + 1)]
    faster = [(_idle_words(rpm, shift), {"engine.idle_rpm": float(rpm)}) for rpm in speeds]
    wheel = line.quantities.get(WHEEL)
    heavier = [
        (f"a flywheel of {number(times)} times the inertia", {WHEEL: units.write(times * wheel.value, "inertia")})
        for times in (HEAVIER if wheel else ())
    ]
    both = [(f"{faster[-1][0]} and {heavier[-1][0]}", faster[-1][1] | heavier[-1][1])] if heavier else []
    return [(words, line.replace(changes)) for words, changes in [*faster, *heavier, *both]]


def _idle_words(rpm: float, shift: float) -> str:
    above = "" if rpm <= shift else f" (above the {number(shift)} rpm at which the gear may be shifted: no remedy)"
    return f"idle at {number(rpm)} rpm{above}"
