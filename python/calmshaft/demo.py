"""The demo: the swap study of the invented harbour launch, in words, a table and pictures."""

from __future__ import annotations

import math
import time
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import xarray as xr

from calmshaft import (
    Condition,
    Line,
    Run,
    compare,
    critical_speeds,
    helm_card,
    quiet_idle,
    report,
    sample_line,
    speeds_to_avoid,
    steady,
    sweep,
)
from calmshaft.commands.common import CAUTION, idle_rpm, rpm_of, say, show_progress, tell
from calmshaft.commands.compare import NOTES, short_rows
from calmshaft.output import write_csv, write_figure, write_netcdf, write_text
from calmshaft.page_text import paragraph, text_table
from calmshaft.wording import listed, number, percent

DEAD = "3"  # inline, even firing, rigid crank: which cylinder is dead does not matter
QUIET = 0.001  # [-] share of time that teeth may be apart and still count as quiet
PLATES = {"A": None, "B": "plate-b", "C": "plate-c"}  # A is the one left in


@dataclass(frozen=True)
class Case:
    """One column of the table."""

    name: str
    gear: str
    rpm: float


def demo(out: Path) -> None:
    """Study the swap and write pictures and tables to `out`."""
    begun = time.monotonic()
    launch, six = sample_line("harbour-launch"), sample_line("harbour-launch-six")
    lines = {name: launch if file is None else launch.with_plate(file) for name, file in PLATES.items()}
    tell("running the conditions of the table ...")
    cases = _cases(launch)
    runs = {(plate, case.name, misfiring): steady(line, _condition(case, misfiring))
            for plate, line in lines.items() for case in cases for misfiring in ("none", DEAD)}  # fmt: skip
    before = steady(six, Condition(idle_rpm(six), "ahead"))
    quiet = {plate: _quiet_above(line) for plate, line in lines.items()}
    tell("sweeping stiffness, speed and misfiring ...")
    ds = _swept(launch)
    _say_findings(launch, runs, quiet, before, idle_rpm(six))
    say(text_table(_table(cases, runs)))
    say(
        "\napart: share of time without tooth contact (neutral: in the unloaded pair). vibratory: half range of "
        "orders 0.5 to 12. Where teeth part, peak torques are an indication only. * fuelling fixed: the line slows."
    )
    written = _write(ds, runs, out)
    tell("comparing the three plates over speed, healthy and with a cylinder dead ...")
    written |= _compared({f"plate {name}": line for name, line in lines.items()}, out)
    tell("writing the report and the card for the helm ...")
    written |= _reported(launch, lines["C"], out)
    say("\nWhat to look for in a plate at all: `calmshaft choose harbour-launch`, which takes longer than all of this.")
    say("\nWritten, and what to look at:")
    for path, words in written.items():
        say(f"  {path}: {words}")
    say(f"\nAll data are invented. {CAUTION}")
    tell(f"All of it, with {ds['status'].size} points of the sweep, in {time.monotonic() - begun:.0f} s")


def _cases(line: Line) -> list[Case]:
    idle, rated = round(idle_rpm(line)), round(rpm_of(line, "engine.rated_rpm"))
    return [
        Case("idle, neutral", "neutral", idle),
        Case("idle, ahead", "ahead", idle),
        Case("cruise", "ahead", round(0.7 * rated)),
        Case("full", "ahead", rated),
    ]


def _condition(case: Case, misfiring: str) -> Condition:
    """At full speed a dead cylinder cannot be made up for: the fuelling stays and the line slows."""
    fixed = case.name == "full" and misfiring != "none"
    return Condition(case.rpm, case.gear, misfiring, fuelling="fixed" if fixed else "governed")


def _quiet_above(line: Line) -> float:
    """Lowest speed [rpm] above which the unloaded pair's teeth stay together in neutral; NaN where they never do."""
    top = rpm_of(line, "engine.rated_rpm")
    coarse = _rattling(line, np.arange(600.0, top + 1.0, 50.0))
    if coarse.all() or coarse[-1]:
        return math.nan
    speeds = np.arange(600.0, top + 1.0, 50.0)
    if not coarse.any():
        return float(speeds[0])
    last = float(speeds[np.flatnonzero(coarse)[-1]])
    fine = np.arange(last, last + 50.0 + 1.0, 10.0)
    return float(fine[np.flatnonzero(_rattling(line, fine))[-1]] + 10.0)


def _rattling(line: Line, speeds: np.ndarray) -> np.ndarray:
    apart = sweep(line, {"rpm": speeds}, Condition(speeds[0], "neutral"))["unloaded_mesh_separated_share"]
    return ~(apart.values <= QUIET)


def _swept(line: Line) -> xr.Dataset:
    axes = {
        "plate.stiffness": (np.linspace(8, 60, 14).tolist(), "N*m/deg"),
        "rpm": np.linspace(600, 2600, 41).tolist(),
        "misfiring": ["none", "1", "2", "3", "4"],
    }
    return sweep(line, axes, Condition(idle_rpm(line), "ahead"), progress=show_progress())


def _apart(run: Run) -> float:
    neutral = run.at.gear == "neutral"
    return run.measures["unloaded_mesh_separated_share" if neutral else "mesh_separated_share"]


def _in_contact(run: Run) -> str:
    share = _apart(run)
    return f"are apart {percent(share)} of the time" if share > QUIET else "stay in contact"


def _say_findings(line: Line, runs: dict, quiet: dict[str, float], six: Run, six_idle: float) -> None:
    idle = round(idle_rpm(line))
    old, new, soft = (runs[plate, "idle, ahead", "none"] for plate in "ABC")
    say(f"{line.title} (invented data)\n")
    say(
        f"Before the swap, the six at {six_idle:.0f} rpm ahead: its gear teeth {_in_contact(six)}. With the four and "
        f"the old plate A left in, at {idle} rpm they {_in_contact(old)}; with plate B they {_in_contact(new)}, "
        f"with C they {_in_contact(soft)}."
    )
    say("In neutral the rattle stops " + ", ".join(f"with {name} {_stops(rpm)}" for name, rpm in quiet.items()) + ".")
    dead = [f"with {plate} they {_in_contact(runs[plate, 'idle, ahead', DEAD])}" for plate in "ABC"]
    say(
        f"With cylinder {DEAD} dead at idle ahead: {', '.join(dead)}. Inline, evenly firing and with a rigid crank it "
        "makes no difference which cylinder is dead.\n"
    )


def _stops(rpm: float) -> str:
    if math.isnan(rpm):
        return "nowhere for good up to rated speed"
    return f"at {number(rpm)} rpm" if rpm > 600 else "below 600 rpm"


def _table(cases: list[Case], runs: dict) -> list[list[str]]:
    rows = [["plate", "condition", "rpm", "cylinders", "apart", "least N m", "vibratory N m", "mean N m", "twist deg"]]
    for plate in PLATES:
        for case in cases:
            for misfiring in ("none", DEAD):
                rows.append([plate, case.name, *_cells(runs[plate, case.name, misfiring])])
    return rows


def _cells(run: Run) -> list[str]:
    cylinders = "all fire" if run.at.misfiring == "none" else f"{run.at.misfiring} dead"
    cylinders += "*" if run.at.fuelling == "fixed" else ""
    if run.signals is None:
        return [f"{run.at.rpm:.0f}", cylinders, run.status, "-", "-", "-", "-"]
    least, vibratory, mean = (run.best(f"mesh_torque_{what}") for what in ("min", "vibratory", "mean"))
    low, high = (math.degrees(run.best(f"plate_twist_{end}")) for end in ("min", "max"))
    return [f"{run.measures['mean_rpm']:.0f}", cylinders, percent(_apart(run)), number(least), number(vibratory),
            number(mean), f"{_tenths(low)} to {_tenths(high)}"]  # fmt: skip


def _tenths(value: float) -> str:
    return f"{round(value, 1) + 0.0:.1f}"  # + 0.0: no minus before a zero


def _compared(lines: dict[str, Line], out: Path) -> dict[Path, str]:
    """The comparison in short, and its picture."""
    from calmshaft import plots

    found = compare(lines)
    say("\nThe three plates beside each other, from idle to rated speed (`calmshaft compare` has every number):")
    say(text_table(short_rows(found)))
    say(f"\n{paragraph(NOTES)}")
    crank = next(one for one in found.verdicts if one.gear == "any")
    say(f"{crank.subject.capitalize()}: {crank.word}, {crank.finding}.")
    for name, line in lines.items():
        of_shaft = [one for one in critical_speeds(line) if "on the shaft" in one.words]
        met = [f"{number(one.rpm)} rpm (order {one.order:g})" for one in of_shaft]
        say(f"With {name} the propeller shaft has its resonance at {listed(met)}.")
    picture = write_figure(plots.comparison(found), out / "comparison.png")
    return {picture: "teeth apart, and vibratory beside mean torque, over speed: the three plates"}


def _reported(launch: Line, soft: Line, out: Path) -> dict[Path, str]:
    """The report of the line as found, and the card for the helm with the plate that is quiet in neutral."""
    page, data = report(launch).write(out / "report.html")
    card = write_text(helm_card(soft, speeds_to_avoid(soft), quiet_idle(soft)), out / "card.html")
    return {
        page: "the launch as found, plate A, on a page to print",
        data: "the same in plain values",
        card: "speeds to avoid and the lowest quiet idle with plate C, a card for the helm",
    }


def _write(ds: xr.Dataset, runs: dict, out: Path) -> dict[Path, str]:
    from calmshaft import plots

    shown = ds.sel(misfiring=["none", DEAD])
    stands = {"plate A": 45.0}
    title = "Harbour launch ahead (invented data): the gear mesh with softer and stiffer springs in plate A"
    maps = plots.ripple_maps(shown, stands, title)
    names = {plate: f"plate {plate}" for plate in PLATES}
    idle = "idle, ahead"
    left_in = (f"{names['A']}, left in", runs["A", idle, "none"])
    traces = plots.before_and_after(left_in, (names["B"], runs["B", idle, "none"]))
    return {
        write_figure(maps, out / "ripple-map.png"): "plate A with other springs: teeth part inside the orange line",
        write_figure(traces, out / "torque-before-and-after.png"): "mesh torque and the zero line, A and B at idle",
        write_netcdf(ds, out / "sweep.nc"): "the sweep: stiffness x rpm x misfiring, all measures",
        write_csv(ds, out / "sweep.csv"): "the same as a table",
    }
