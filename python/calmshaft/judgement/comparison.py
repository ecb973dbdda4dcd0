"""Several lines beside each other over speed: who parts its teeth, reaches its stop, rattles in neutral, and where."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import asdict, dataclass, field
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft.condition import HEALTHY, Condition, Misfiring, line_fault, misfiring_label
from calmshaft.judgement.over_speed import RPM, SHAFT_STRESS, SHARE, Respect, barred_words, held, respects, valid
from calmshaft.judgement.verdicts import CRANK, NEAR, RIGID_CRANK
from calmshaft.line import Line
from calmshaft.misfiring import fault_words
from calmshaft.quiet_idle import one_dead
from calmshaft.runs import fire_evenly, usual_gear
from calmshaft.speed_steps import ends_of, running_speeds
from calmshaft.sweeps import sweep
from calmshaft.wording import number, percent

if TYPE_CHECKING:
    import xarray as xr

__all__ = ["RPM", "Comparison", "Verdict", "compare", "fire_evenly"]

ON_COAST = " on the coast flanks"
BELOW = 0.8  # [-] of idle speed: from here on a comparison is drawn
ALL_FIRE, ONE_DEAD = "all fire", "one dead"


@dataclass(frozen=True, slots=True)
class Verdict:
    """One line judged in one respect.

    word: "within", "near", "over" or "not judged". value and limit [unit] decide it, at `rpm` with `cylinder` dead (0:
    all fire, or any of an engine that fires evenly); NaN where there is none. finding: in words. matters: whether not
    being judged leaves something open that could do harm. document: where the limit stands. low, high [unit]: of the
    value at that point, 5 % of `plausible` solved cases below and above; share_over [-] of them are past the limit.
    """

    line: str
    gear: str
    cylinders: str
    subject: str
    word: str
    finding: str
    value: float = math.nan
    limit: float = math.nan
    unit: str = ""
    rpm: float = math.nan
    cylinder: int = 0
    matters: bool = True
    document: str = ""
    low: float = math.nan
    high: float = math.nan
    share_over: float = math.nan
    plausible: int = 0

    @property
    def margin(self) -> float:
        """What is left up to the limit, as a share of it [-]; below zero where it is exceeded, NaN without a limit."""
        return 1.0 - self.value / self.limit if self.limit else math.nan

    @property
    def value_words(self) -> str:
        """The deciding number with its unit; nothing where there is none."""
        return self._with_unit(self.value)

    @property
    def limit_words(self) -> str:
        """The limit with its unit; nothing where there is none."""
        return self._with_unit(self.limit)

    @property
    def margin_words(self) -> str:
        """ "22 % left" or "8 % over"; nothing for a share of time, of which a multiple says nothing."""
        if self.unit == SHARE or not math.isfinite(self.margin):
            return ""
        return f"{percent(self.margin)} left" if self.margin >= 0 else f"{percent(-self.margin)} over"

    @property
    def band_words(self) -> str:
        """ "10.2 to 14.8 N m, 5 % over"; nothing where no cases were asked."""
        if not self.plausible:
            return ""
        low, unit, high = number(self.low), "%" if self.unit == SHARE else self.unit, number(self.high)
        band = f"{low} {unit}" if low == high else f"{low} to {high} {unit}"
        return f"{band.rstrip()}, {percent(self.share_over)} over"

    def _with_unit(self, value: float) -> str:
        if not math.isfinite(value):
            return ""
        return percent(value / 100) if self.unit == SHARE else f"{number(value)} {self.unit}".rstrip()

    def as_dict(self) -> dict[str, Any]:
        """Plain values, None for NaN."""
        plain = {**asdict(self), "margin": self.margin}
        return {key: None if isinstance(value, float) and math.isnan(value) else value for key, value in plain.items()}


@dataclass(frozen=True)
class Comparison:
    """verdicts: by line, gear, cylinders and subject. datasets: by (line, gear), over rpm and misfiring."""

    lines: Mapping[str, Line]
    verdicts: tuple[Verdict, ...]
    datasets: Mapping[tuple[str, str], xr.Dataset] = field(repr=False)


def compare(lines: Mapping[str, Line], rpm: Sequence[float] | None = None, gears: Sequence[str] = ("ahead", "neutral"),
            threads: int = 0, progress: bool = False, misfiring: Sequence[Misfiring] | None = None,
            load: str = "under way", plausible: int = 0) -> Comparison:  # fmt: skip
    """Every line at every speed, healthy and with each cylinder dead (one, where all are alike), judged.

    lines: name -> Line. rpm: where not given, steps of 25 rpm from the lowest idle to the highest rated speed,
    and four speeds below, down to 0.8 of idle.
    misfiring: other faults than these, as Condition takes them, each judged by itself. Gears that a line lacks are left
    out. plausible: so many cases drawn from each line's ranges give every deciding number its band, 0 none. Raises
    LineError for no line or a condition that does not fit, and on Ctrl-C SweepInterrupted.
    """
    if plausible and not 20 <= plausible <= 10_000:
        raise line_fault("plausible", plausible, "cannot make a band", "write from 20 to 10,000 cases, or 0 for none")
    if not lines:
        raise line_fault("compare", "no line", "there is nothing to compare", "name two lines, or a line and plates")
    speeds = list(rpm) if rpm is not None else _speeds(lines)
    if not speeds:
        raise line_fault("rpm", "no value", "there is no speed to compare at", "write for instance [800, 1200]")
    datasets, verdicts = {}, []
    for name, line in lines.items():
        cases = cases_of(line, misfiring)
        for gear in gears:
            if gear != "neutral" and usual_gear(line) == "neutral":
                continue
            at = Condition(speeds[0], gear, load=load)
            axes = {"rpm": speeds, "misfiring": [label for labels in cases.values() for label in labels]}
            datasets[name, gear] = sweep(line, axes, at, threads=threads, progress=progress)
            found = judged(name, line, at, datasets[name, gear], cases, threads)
            if plausible:
                from calmshaft.judgement.plausible import banded  # brings the schema, which takes longer than the rest

                found = banded(line, at, found, cases, plausible, threads)
            verdicts += found
        verdicts.append(Verdict(name, "any", "any", CRANK, "not judged", RIGID_CRANK, matters=False))
    if not datasets:
        rule = "none of the lines has such a gear"
        raise line_fault("gears", ", ".join(gears), rule, "write neutral, or describe shaft and propeller")
    return Comparison(dict(lines), tuple(verdicts), datasets)


def cases_of(line: Line, misfiring: Sequence[Misfiring] | None) -> dict[str, list[str]]:
    """What is judged together: words for it, and its labels of misfiring."""
    if misfiring is None:
        return {ALL_FIRE: [HEALTHY], ONE_DEAD: one_dead(line)}
    labels = [misfiring_label(one) for one in misfiring]
    return {ALL_FIRE if label == HEALTHY else fault_words(line, label): [label] for label in labels}


def _speeds(lines: Mapping[str, Line]) -> list[float]:
    """Those at which a line is judged, of all lines, every line's own idle speed, and four below the lowest."""
    ends = [ends_of(line) for line in lines.values()]
    lowest, highest = min(idle for idle, _ in ends), max(rated for _, rated in ends)
    below = np.linspace(BELOW * lowest, lowest, 5)[:-1]
    others = [*below, *(idle for idle, _ in ends)]
    return sorted({*running_speeds(lowest, highest), *(round(float(speed), 3) for speed in others)})


def judged(
    name: str, line: Line, at: Condition, ds: xr.Dataset, cases: Mapping[str, list[str]], threads: int = 0
) -> list[Verdict]:
    """Verdicts of one sweep in one gear, in every respect of every case."""
    every = respects(line, at, ds, threads)
    return [_verdict(name, line, at.gear, words, one, ds, labels) for words, labels in cases.items() for one in every]


def _verdict(name: str, line: Line, gear: str, words: str, one: Respect, ds: xr.Dataset, labels: list[str]) -> Verdict:
    """The worst point decides; a point without a result leaves it open unless another one is over.

    Speeds that the engine cannot hold, since they ask for more fuel than at rated torque, are left out.
    """
    said = {"line": name, "gear": gear, "cylinders": words, "subject": one.subject, "document": one.document}
    if one.value is None:
        return Verdict(**said, word="not judged", finding=one.why_not, matters=one.matters)
    rpm = ds.rpm.values
    rows = np.flatnonzero((rpm >= one.speeds[0]) & (rpm <= one.speeds[1]))
    columns = [list(ds.misfiring.values).index(label) for label in labels]
    value, limit, good, can = (whole.transpose("rpm", "misfiring").values[np.ix_(rows, columns)]
                               for whole in (one.value, one.value * 0 + one.limit, valid(ds), held(ds)))  # fmt: skip
    can = can & ~np.isinf(limit)  # a limit of other speeds
    share = np.where(can, np.where(good, value / limit, math.nan), -math.inf)
    if not (share > -math.inf).any():
        why = "no speed of it was asked" if not rows.size else "no point has a valid result"
        return Verdict(**said, word="not judged", finding=why)
    row, column = np.unravel_index(int(np.nanargmax(share)), share.shape)
    at, worst = float(rpm[rows[row]]), float(share[row, column])
    found = {"value": float(value[row, column]), "limit": float(limit[row, column]), "unit": one.unit, "rpm": at}
    word = _word(worst, one.unit)
    finding = _finding(one, line, found, labels[column], ds)
    open_rows = np.isnan(share).any(axis=1)
    if word != "over" and open_rows.any():
        word, finding = "not judged", f"no valid result at {number(float(rpm[rows[open_rows][0]]))} rpm"
    cylinder = 0 if len(labels) == 1 else int(labels[column])
    said["document"] = one.document_at(at)
    return Verdict(**said, **found, word=word, finding=finding, cylinder=cylinder)


def _word(share: float, unit: str) -> str:
    """Of time out of contact all up to the limit is within; near is a matter of torque, twist and the like."""
    if unit == SHARE:
        return "over" if share > 1.0 else "within"
    return "over" if share >= 1.0 else "near" if share >= NEAR else "within"


def _finding(one: Respect, line: Line, found: dict[str, Any], label: str, ds: xr.Dataset) -> str:
    value, rpm = found["value"], found["rpm"]
    if one.unit != SHARE:
        text = f"{number(value)} of {number(found['limit'])} {one.unit}".rstrip() + f", {number(rpm)} rpm"
        over = value >= found["limit"]
        return f"{text}; {barred_words(line, rpm, value)}" if over and one.subject == SHAFT_STRESS else text
    if value == 0:
        return percent(0.0)
    coast = float(one.coast.sel(rpm=rpm, misfiring=label)) if one.coast is not None else 0.0
    flanks = f", {percent(coast / 100)}{ON_COAST}" if coast > 100 * 0.0005 else ""
    return f"{percent(value / 100)}{flanks}, {number(rpm)} rpm"
