"""The speeds at which something is over its limit, all cylinders firing and with one dead. Calculated, not measured."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft.condition import Condition, Misfiring, line_fault
from calmshaft.judgement.comparison import cases_of
from calmshaft.judgement.over_speed import RATTLE_IN_GEAR, SHARE, Respect, held, respects, valid
from calmshaft.line import Line
from calmshaft.speed_steps import STEP, ends_of, running_speeds
from calmshaft.sweeps import sweep
from calmshaft.wording import listed, number

if TYPE_CHECKING:
    import xarray as xr

TEETH = "the gear teeth part"
UNHELD = "more fuel than at rated torque would be needed, so the engine cannot hold them"
UNKNOWN = "no valid result"
IN_WORDS = {
    "teeth at idle": TEETH,
    "teeth under way": TEETH,
    "vibratory torque against mean": "the torque in the gear swings by more than its mean",
    "rattle at idle": "the free pair rattles",
}


@dataclass(frozen=True, slots=True)
class SpeedsToAvoid:
    """low and high [rpm]: the calm speeds beside the range, or the ends of what was looked at. cylinders: "all fire",
    "one dead", or the fault in words. reasons: what is over there."""

    cylinders: str
    low: float
    high: float
    reasons: tuple[str, ...]

    @property
    def words(self) -> str:
        """ "800 to 925 rpm: the gear teeth part"."""
        return f"{number(self.low)} to {number(self.high)} rpm: {listed(self.reasons)}"

    def as_dict(self) -> dict[str, Any]:
        """Plain values."""
        return asdict(self)


def speeds_to_avoid(
    line: Line,
    gear: str = "ahead",
    misfiring: Sequence[Misfiring] | None = None,
    step: float = STEP,
    load: str = "under way",
    threads: int = 0,
) -> tuple[SpeedsToAvoid, ...]:
    """Ranges between idle and rated speed, in steps [rpm], in which something is over its limit or has no result.

    misfiring: by default none, and one cylinder dead (the worst of them where they are not alike). The fuelling is
    governed. Raises LineError.
    """
    if not 1.0 <= step <= 500.0:
        raise line_fault("step", step, "lies between 1 and 500 rpm", "write for instance 25")
    speeds = running_speeds(*ends_of(line), step)
    cases = cases_of(line, misfiring)
    labels = [label for members in cases.values() for label in members]
    at = Condition(speeds[0], gear, load=load)
    ds = sweep(line, {"rpm": speeds, "misfiring": labels}, at, threads=threads)
    return avoid_in(line, at, ds, cases, threads)


def avoid_in(
    line: Line, at: Condition, ds: xr.Dataset, cases: Mapping[str, list[str]], threads: int = 0
) -> tuple[SpeedsToAvoid, ...]:
    """The same of a sweep over rpm and misfiring that is there already. cases: words -> labels of misfiring."""
    judged = respects(line, at, ds, threads)
    return tuple(one for words, members in cases.items() for one in _ranges(words, ds, judged, members))


def _ranges(cylinders: str, ds: xr.Dataset, judged: list[Respect], labels: list[str]) -> list[SpeedsToAvoid]:
    """Neighbouring speeds with something to avoid together, with all that is to be avoided in them."""
    found = {reason: at.sel(misfiring=labels).any("misfiring").values for reason, at in _reasons(ds, judged).items()}
    rpm, bad = ds.rpm.values, np.logical_or.reduce(list(found.values()))
    bad[1:-1] |= bad[:-2] & bad[2:]  # one calm speed between two others is none to run at
    edges = np.flatnonzero(np.diff([False, *bad, False]))
    made = []
    for first, after in zip(edges[::2], edges[1::2], strict=True):
        low, high = rpm[max(first - 1, 0)], rpm[min(after, rpm.size - 1)]
        reasons = [reason for reason, at in found.items() if at[first:after].any()]
        made.append(SpeedsToAvoid(cylinders, float(low), float(high), _without_doubles(reasons)))
    return made


def _without_doubles(reasons: list[str]) -> tuple[str, ...]:
    """Where the teeth part it is no news that the torque turns round."""
    swings = IN_WORDS["vibratory torque against mean"]
    return tuple(one for one in reasons if one != swings or TEETH not in reasons)


def _reasons(ds: xr.Dataset, judged: list[Respect]) -> dict[str, xr.DataArray]:
    """Reason -> where it holds, over (rpm, misfiring)."""
    good, can = valid(ds), held(ds)
    found = {UNHELD: good & ~can, UNKNOWN: ~good}
    for one in judged:
        if one.value is None or one.subject == RATTLE_IN_GEAR:  # a noise: told by compare, not avoided
            continue
        share = one.value / one.limit
        over = share > 1.0 if one.unit == SHARE else share >= 1.0
        asked = (ds.rpm >= one.speeds[0]) & (ds.rpm <= one.speeds[1])
        reason = IN_WORDS.get(one.subject, f"{one.subject} over its limit")
        found[reason] = found.get(reason, False) | (over & good & can & asked)
        found[UNKNOWN] = found[UNKNOWN] | (np.isnan(share) & good & can & asked)
    return {TEETH: found.pop(TEETH), **found} if TEETH in found else found
