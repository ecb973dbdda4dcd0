"""Two engines on random steady conditions: marching in crank angle by fixed steps against time under step control.

    python tests/python/two_engines.py --cases 200

prints how well they agree, and each disagreement with its cause. A case is one number: random line, random condition.
The time run starts where the lanes ended, holds the mean speed that they report, settles, and is measured by NumPy.
"""

import argparse
import math
import multiprocessing
from collections import Counter
from dataclasses import dataclass, field

import numpy as np

import calmshaft as cs
from calmshaft import _core
from calmshaft.results import MEASURES
from calmshaft.runs import cylinders, prepared
from line_strategies import random_case
from time_run import run_in_time, start_of

CLOSE = 5e-3  # of the value: what the ladder of steps promises where teeth stay in contact
TIGHT = 1e-10  # relative tolerance of time steps: at 1e-8 peaks of impacts scatter more than what counts as repeating
FLOOR = 1e-3  # of rated torque, where larger: what the search for the steady state calls settled
WIDTHS = 0.5, 1.0, 2.0  # of the tolerance: motion at its edge is called now this, now that, by either engine
PLATE_FLOOR = 5e-3  # it judges the plate by its twist, over the softest stage; the others are several times stiffer
FLOAT = 1e-2  # of the backlash, how far teeth that carry nothing may wander and still count as at rest
MEAN = 1e-3  # of rated torque, for the mean in the mesh
STALL = 0.25  # of the asked speed: what the lanes call stalled
MORE_CYCLES, FINE_STEPS, MOST_STEPS = 288, 46_080, 100_000  # of the second look
WINDOW = 16  # cycles, the fewest that the search takes for statistics
SLOW = "changes more slowly than the cycles allow"
UNEXPLAINED, WITHOUT_IMPACTS = "unexplained", "step error without impacts"
NO_EXCUSE = (UNEXPLAINED, WITHOUT_IMPACTS)
COMPARED = ("mesh_torque_ripple", "mesh_torque_vibratory", "mesh_torque_mean", "plate_torque_ripple")
IN_NEUTRAL = ("unloaded_mesh_torque_ripple", "plate_torque_ripple")


@dataclass(frozen=True)
class Pair:
    """One measure by both engines, SI."""

    name: str
    lanes: float
    in_time: float
    allowed: float  # difference that counts as none
    error: float = 0.0  # standard error of the difference; 0 where both repeat every cycle

    @property
    def difference(self):
        return abs(self.lanes - self.in_time)

    def agrees(self, errors=2):
        return self.difference <= max(self.allowed, errors * self.error)


@dataclass
class Case:
    seed: int
    condition: str
    status: str
    in_time: tuple = ()  # its status by the time run, at each of WIDTHS
    why_other: str = ""  # where the two statuses differ
    pairs: list = field(default_factory=list)
    causes: dict = field(default_factory=dict)  # measure -> why the engines differ at the default steps
    faults: list = field(default_factory=list)  # what no cause excuses

    @property
    def repeats(self):
        return all(pair.error == 0 for pair in self.pairs)


def compare(seed, cycles=160, kept=100):
    """One case by both engines."""
    line, at = random_case(seed)
    run = cs.steady(line, at)
    case = Case(seed, f"{at.rpm:.0f} rpm, {at.gear}, {at.load}, {at.fuelling}, misfiring {at.misfiring}", run.status)
    case.faults += faults_of(run)
    if run.status == "stalled":
        case.faults += [] if _stalls_in_time(line, at) else ["stalls by the lanes alone"]
    if run.status == "failed" and cs.steady(line, at, steps_per_cycle=FINE_STEPS).status == "failed":
        case.faults.append("fails at fine steps too")
    if run.status in ("stalled", "failed"):
        return case
    in_time = _continued(line, at, run, cycles, kept)
    if in_time.end != "reached" or len(in_time.cycles.get("mesh_torque_mean", range(kept))) < kept - 1:
        case.faults.append(f"time run ended early: {in_time.end}")
        return case
    case.in_time = statuses_in_time(in_time, tolerances_of(line, at))
    if case.status not in case.in_time:
        case.why_other = _why_other(line, at, run, in_time)
    case.faults += _unbalanced(line, at, run, in_time)
    case.pairs = _pairs(line, at, run, in_time)
    differing = [pair for pair in case.pairs if not pair.agrees()]
    if differing:
        _second_look(case, line, at, run, in_time, differing)
    return case


def _why_other(line, at, run, in_time):
    """Why the statuses differ: finer steps end it, the time run does both, or it settles late."""
    tolerances = tolerances_of(line, at)
    fine = cs.steady(line, at, steps_per_cycle=_finer(run.steps_per_cycle))
    if fine.status in statuses_in_time(in_time, tolerances):
        return "step error"
    cycles = len(next(iter(in_time.cycles.values())))
    if any(run.status in statuses_in_time(in_time, tolerances, end) for end in range(24, cycles)):
        return "the time run passes through that status too"
    if fine.status not in ("stalled", "failed"):
        on = _continued(line, at, fine, 160, 100)
        if fine.status in statuses_in_time(on, tolerances):
            return "step error; alike at finer steps, from their own end"
    return "settles later than the lanes look on" if run.status == "aperiodic" else UNEXPLAINED


def tolerances_of(line, at):
    """Smallest difference that counts, SI, by name: what the search for the steady state takes."""
    rated = line.core.engine.rated_torque
    found = {"mesh_torque_ripple" if at.gear != "neutral" else "unloaded_mesh_torque_ripple": FLOOR * rated}
    found["plate_torque_ripple"] = PLATE_FLOOR * rated
    couplings = _couplings(line, at)
    if teeth := [c for kind in ("loaded mesh", "unloaded mesh") for c in couplings if c["kind"] == kind]:
        wandering = FLOAT * 2 * teeth[0]["half_backlash"] + FLOOR * rated / teeth[0]["stiffness"]
        found |= {"teeth_twist_least": wandering, "teeth_twist_greatest": wandering}
    return found


def statuses_in_time(in_time, tolerances, end=None):
    """What the last cycles of a time run do, once for each of WIDTHS of the tolerance."""
    judged = [(in_time.cycles[name][:end], tolerances[name]) for name in tolerances if name in in_time.cycles]
    return tuple(_status_in_time(judged, width) for width in WIDTHS)


def _status_in_time(judged, width):
    """In the words and by the tolerances of the search for the steady state.

    8 cycles within half the tolerance of the newest are periodic; 2 p + 4 that repeat at lag p <= 8 are subharmonic, if
    neighbours differ.
    """

    def alike(of, other, share):
        return all(
            np.all(abs(values[of] - values[other]) <= width * share * max(tolerance, FLOOR * abs(values[-1])))
            for values, tolerance in judged
        )

    if alike(slice(-8, None), slice(-1, None), 0.5):
        return "periodic"
    neighbours_differ = not alike(slice(-1, None), slice(-2, -1), 1.0)
    for p in range(2, 9):
        if neighbours_differ and alike(slice(-p - 4, None), slice(-2 * p - 4, -p), 1.0):
            return "subharmonic"
    return "aperiodic"


def faults_of(run):
    """What may never be, whatever the condition: silent NaN, books that do not balance, a status without a reason."""
    if run.status in ("stalled", "failed"):
        return [] if run.reason and np.isnan(list(run.measures.values())).all() else ["no reason, or numbers beside it"]
    faults = []
    if not abs(run.energy_audit["relative_defect"]) < 1e-3:
        faults.append("energy defect")
    parts = {"mesh": run.at.gear != "neutral", "plate": not run.line.core.plate.rigid}
    parts["unloaded"] = any("unloaded" in kind for kind in _kinds(run.line, run.at))
    for measure in MEASURES:
        settled = not measure.peak or run.status != "aperiodic"
        present = parts.get(measure.name.split("_")[0], True)
        values = [run.measures[measure.name]] * settled + [run.spread[measure.name]["mean"]]
        if present and not np.isfinite(values).all():
            faults.append(f"{measure.name} is not a number")
    return faults


def _kinds(line, at):
    return [coupling["kind"] for coupling in _couplings(line, at)]


def _couplings(line, at):
    return _core.mass_elastic_system(prepared(line), at.core(cylinders(line)), 1440)["couplings"]


def _continued(line, at, run, cycles, kept):
    held = run.measures["mean_rpm"] * math.tau / 60
    begun = {"held_speed": held, "start": start_of(run)}
    return run_in_time(line, at, run.fuelling, cycles=cycles, kept=kept, tolerance=TIGHT, **begun)


def _stalls_in_time(line, at):
    """With the healthy engine's fuelling held, the crank falls below a quarter of the asked speed."""
    fuelling = cs.steady(line, at.with_(fuelling="governed", misfiring="none")).fuelling
    if at.fuelling == "governed" or not fuelling:
        fuelling = 1.0  # nothing carries this load: what the lanes say of the fuelling is no start, the rating is
    for cycles in (100, 400, 1600, 6400):
        ended = run_in_time(line, at, fuelling, cycles=cycles, kept=1, tolerance=1e-6)
        if ended.crank_speed < STALL * at.rpm * math.tau / 60:
            return True
    return False


def _unbalanced(line, at, run, in_time):
    """The speed is the asked one, and the fuelling that holds it is the one that the lanes found."""
    tables = _core.mass_elastic_system(prepared(line), at.core(cylinders(line)), 1440)["tables"]
    surplus = (in_time.fuelling - run.fuelling) * tables["fuelled_torque"].mean() / line.core.engine.rated_torque
    faults = [] if abs(surplus) < 2 * FLOOR else [f"fuelling is off by {surplus:.1%} of rated torque"]
    if at.fuelling == "governed" and abs(run.measures["mean_rpm"] / at.rpm - 1) > 2e-3:
        faults.append("the speed is not the asked one")
    return faults


def _pairs(line, at, run, in_time):
    rated = line.core.engine.rated_torque
    names = IN_NEUTRAL if at.gear == "neutral" else COMPARED
    return [_pair(name, rated, run, in_time) for name in names if name in in_time.cycles]


def _pair(name, rated, run, in_time):
    value = in_time.mean(name)
    if name == "mesh_torque_mean":
        return Pair(name, run.measures[name], value, MEAN * rated)
    allowed = max(CLOSE * value, rated * (PLATE_FLOOR if name.startswith("plate") else FLOOR))
    if run.status == "periodic" and in_time.spread(name) <= allowed:
        return Pair(name, run.measures[name], value, allowed)
    spread = run.spread[name]
    error = math.hypot(np.nan_to_num(spread["standard_error"]), in_time.standard_error(name))
    return Pair(name, spread["mean"], value, allowed, error)


def _second_look(case, line, at, run, in_time, differing):
    """More cycles, finer steps, a longer time run, one from a cold start: the first that agrees tells the cause."""
    finer = {"steps_per_cycle": _finer(run.steps_per_cycle), "most_cycles": MORE_CYCLES}
    more, fine = cs.steady(line, at, most_cycles=MORE_CYCLES), cs.steady(line, at, **finer)
    if fine.status in ("stalled", "failed"):
        case.faults.append(f"{fine.status} at finer steps")
        return
    for pair in differing:
        by_more, by_fine = (_named(pair.name, line, other, in_time) for other in (more, fine))
        if by_fine.agrees(errors=4) and pair.agrees(errors=4):
            cause = "chance"
        elif by_more.agrees(errors=4):
            cause = SLOW
        elif by_fine.agrees(errors=4):
            cause = _step_error(run)
        elif _passes(by_fine, _continued(line, at, fine, 400, 400)):
            cause = SLOW
        elif _named(pair.name, line, fine, _cold(line, at, run)).agrees(errors=4):
            cause = "another of several motions"
        else:
            cause = UNEXPLAINED
        case.causes[pair.name] = cause
        case.faults += [f"{pair.name}: {cause}"] if cause in NO_EXCUSE else []


def _named(name, line, run, in_time):
    return _pair(name, line.core.engine.rated_torque, run, in_time)


def _passes(fine, from_their_end):
    """Whether the lanes' mean is one of those that a time run from their end goes through, over as few cycles."""
    means = np.convolve(from_their_end.cycles[fine.name], np.full(WINDOW, 1 / WINDOW), mode="valid")
    slack = max(fine.allowed, 4 * fine.error)
    return means.min() - slack <= fine.lanes <= means.max() + slack


def _cold(line, at, run):
    """From the linear start of its own."""
    held = run.measures["mean_rpm"] * math.tau / 60
    return run_in_time(line, at, run.fuelling, cycles=260, kept=100, tolerance=TIGHT, held_speed=held)


def _finer(steps):
    """Eight times the steps, as far as there may be so many."""
    return steps * next(times for times in (8, 4, 2) if steps * times <= MOST_STEPS)


def _step_error(run):
    """Excused only where teeth or stops are struck."""
    shares = ("mesh_separated_share", "unloaded_mesh_separated_share", "plate_stop_share")
    struck = np.nansum([run.measures[share] for share in shares]) > 0
    return "steps too coarse for impacts" if struck else WITHOUT_IMPACTS


def _histogram(values, edges):
    inside = [sum(value <= edge for value in values) for edge in edges]
    return "  ".join(f"<= {edge:g}: {count}" for edge, count in zip(edges, inside, strict=True)) + f"  of {len(values)}"


def report(cases):
    """The numbers, as text."""
    lines = [
        f"cases {len(cases)}: " + ", ".join(f"{n} {status}" for status, n in Counter(c.status for c in cases).items())
    ]
    for name in sorted({pair.name for case in cases for pair in case.pairs}):
        pairs = [pair for case in cases for pair in case.pairs if pair.name == name]
        repeating = [pair.difference / pair.allowed for pair in pairs if pair.error == 0]
        others = [pair.difference / pair.error for pair in pairs if pair.error]
        lines.append(f"{name}: agree in {sum(pair.agrees() for pair in pairs)} of {len(pairs)}")
        lines.append(f"    both repeat, difference over allowed one {_histogram(repeating, (0.1, 0.5, 1, 2, 10, 100))}")
        if others:
            lines.append(f"    means over cycles, difference in standard errors {_histogram(others, (1, 2, 3, 4, 10))}")
    seen = [case for case in cases if case.in_time]
    lines.append(f"status: agree in {sum(case.status in case.in_time for case in seen)} of {len(seen)}")
    lines += [
        f"  {case.seed:4d} {case.status} by the lanes, {case.in_time[1]} in time: {case.why_other} ({case.condition})"
        for case in seen
        if case.status not in case.in_time
    ]
    causes = Counter(cause for case in cases for cause in case.causes.values())
    lines.append("causes of differences: " + (", ".join(f"{n} x {cause}" for cause, n in causes.items()) or "none"))
    for case in cases:
        for pair in case.pairs:
            if pair.name in case.causes:
                lines.append(
                    f"  {case.seed:4d} {case.status} {pair.name} {pair.lanes:.5g} against {pair.in_time:.5g} "
                    f"+- {pair.error:.2g} N m: {case.causes[pair.name]} ({case.condition})"
                )
        lines += [f"  {case.seed:4d} {case.status} FAULT {fault} ({case.condition})" for fault in case.faults]
    return "\n".join(lines)


def main():
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    parser.add_argument("--cases", type=int, default=200)
    parser.add_argument("--first", type=int, default=0)
    asked = parser.parse_args()
    seeds = range(asked.first, asked.first + asked.cases)
    with multiprocessing.get_context("spawn").Pool() as pool:
        cases = list(pool.imap(compare, seeds))
    print(report(cases))
    raise SystemExit(any(case.faults for case in cases))


if __name__ == "__main__":
    main()
