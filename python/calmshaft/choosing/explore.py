"""The search itself: plates over all ranges, then where good ones were met, then inside the box until none misses."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from calmshaft.choosing.aims import Aims
from calmshaft.choosing.search import MEETS, Looked, Misses, Search, Told
from calmshaft.choosing.window import Box, largest
from calmshaft.condition import Condition

PILOT, FIRST, BATCH = 48, 320, 128  # plates: at every condition, over all ranges, of one round
AROUND, ROUNDS = 2, 12  # rounds in and about the box, and inside it
WIDER, NARROWER, SET_BACK = 0.12, 0.04, 0.06  # of the box's width; ours
EACH_TURN = 0.015  # more of NARROWER each round, so that rounds come to an end
LEAST_SPAN = 0.15  # [-] of a range, about good plates that lie close together


@dataclass
class Explored:
    """What a search found. first: how many of `looked` were drawn over all ranges. pilot: limits missed by the first
    plates at (condition, limit). inside: of the last plates drawn inside the box, how many, and how many met all."""

    looked: Looked
    first: int
    pilot: Misses
    box: Box | None = None
    inside: tuple[int, int] = (0, 0)


def explore(search: Search, seed: int, told: Told) -> Explored:
    """The box of shares inside which plates meet all limits, as far as plates drawn anew inside it can tell."""
    traits = len(search.plates.traits)
    whole = Box(np.zeros(traits), np.ones(traits))
    pilot = search.plates.draw(whole.low, whole.high, PILOT, seed + 7)
    misses = search.misses(search.prepared(pilot), search.aims.conditions)
    search.order = deciding(search.aims, misses)
    looked = Looked(np.empty((0, traits)))
    _look(search, looked, whole, FIRST, seed)
    found = Explored(looked, len(looked.shares), misses)
    told(f"{found.first} plates over all ranges, {looked.good.sum()} meet the limits")
    _look(search, looked, _about(looked, whole), FIRST, seed + 1)
    for turn in range(AROUND + ROUNDS):
        box = largest(looked.shares, looked.good, search.plates.bounds, seed)
        if box is None:
            found.box = None
            return found
        if turn < AROUND:
            _look(search, looked, box.grown(WIDER), BATCH, seed + 100 + turn)
            continue
        by = NARROWER + EACH_TURN * (turn - AROUND)
        verdict = _look(search, looked, box.drawn_in(by), BATCH, seed + 100 + turn, everywhere=True)
        found.box, found.inside = box.drawn_in(by + SET_BACK), (len(verdict), int((verdict == MEETS).sum()))
        told(f"{len(looked.shares)} plates, of {len(verdict)} inside the window {found.inside[1]} meet the limits")
        if (verdict == MEETS).all():
            break
    return found


def deciding(aims: Aims, misses: Misses) -> list[Condition]:
    """Conditions that turn plates down, most first, and the first one of every limit."""
    turned = {at: int(sum(misses[at, aim.key].sum() for aim in aims.at(at))) for at in aims.conditions}
    always = {aim.conditions[0] for aim in aims.all}
    return sorted((at for at in turned if turned[at] or at in always), key=lambda at: -turned[at])


def _about(looked: Looked, whole: Box) -> Box:
    """Where good plates were met; all ranges where none was."""
    good = looked.shares[looked.good]
    if not len(good):
        return whole
    middle, half = (good.max(axis=0) + good.min(axis=0)) / 2, (good.max(axis=0) - good.min(axis=0)) / 2
    half = np.maximum(1.2 * half, LEAST_SPAN)
    return Box(np.clip(middle - half, 0, 1), np.clip(middle + half, 0, 1))


def _look(search: Search, looked: Looked, box: Box, count: int, seed: int, everywhere: bool = False) -> np.ndarray:
    """Plates of a box, added to those looked at. everywhere: those that meet all are put through every condition, and
    one that turns a plate down is among the deciding ones from then on."""
    shares = search.plates.draw(box.low, box.high, count, seed)
    verdict = search.judge(shares)
    if everywhere and (verdict == MEETS).all():
        rest = [at for at in search.aims.conditions if at not in search.order]
        found = search.misses(search.prepared(shares), rest) if rest else {}
        for (at, key), rows in found.items():
            verdict[rows & (verdict == MEETS)] = key
            search.order += [at] if rows.any() and at not in search.order else []
    looked.add(shares, verdict)
    return verdict
