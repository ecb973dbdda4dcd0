"""The tables of README.md, from the JSON of all.py."""

from __future__ import annotations

from typing import Any

from launch_measuring import ODEINT
from launch_peers import ODEINT_FLAGS
from work_precision_plot import families

# name, unit, target, whether more is better
TARGETS = {
    "shipped": ("10,000 points, launch as shipped, 2 threads", "s", 4.0, False),
    "eight": ("10,000 points, 8 inertias, 2 threads", "s", 6.0, False),
    "stretch": ("10,000 points, launch as shipped: stretch", "s", 3.0, False),
    "steady": ("one steady condition from Python", "s", 0.05, False),
    "import": ("`import calmshaft`", "s", 0.3, False),
    "inertias": ("8 to 12 inertias, cost of a step", "x", 2.2, False),
    "inertias_sweep": ("8 to 12 inertias, whole sweep", "x", 2.2, False),
    "cores": ("1 to 2 cores", "x", 1.9, True),
}


def markdown(results: dict[str, Any]) -> str:
    """All tables, each under a line that says what it is."""
    parts = (_targets(results), _jobs(results["whole_job"]), _peers(results["whole_job"]),
             _growth(results["growth"]), _equal_error(results["one_condition"]))  # fmt: skip
    about = results["run"]["machine"]
    return f"Measured {results['run']['date']} on {about['processor']}, {about['system']}.\n\n" + "\n\n".join(parts)


def figures(results: dict[str, Any]) -> dict[str, float]:
    """The measured figure of each target."""
    shipped, eight = results["whole_job"]["jobs"].values()
    goals, ratio = results["run"]["goals"], results["growth"]["inertias"]["twelve_over_eight"]
    scale = 10_000 / shipped["points"]
    return {
        "shipped": scale * shipped["seconds"]["2"],
        "eight": scale * eight["seconds"]["2"],
        "stretch": scale * shipped["seconds"]["2"],
        "steady": goals["steady_seconds"]["measured"],
        "import": goals["import_seconds"]["measured"],
        "inertias": ratio["nanoseconds_a_step"],
        "inertias_sweep": ratio["processor_seconds"],
        "cores": results["growth"]["cores"]["two_over_one"],
    }


def _table(head: list[str], rows: list[list[str]]) -> str:
    ruled = [head, ["---"] * len(head), *rows]
    return "\n".join("| " + " | ".join(row) + " |" for row in ruled)


def _targets(results: dict[str, Any]) -> str:
    measured, rows = figures(results), []
    for key, (name, unit, target, more) in TARGETS.items():
        reached = measured[key] >= target if more else measured[key] <= target
        bound = f"{'at least' if more else 'at most'} {target:g} {unit}"
        rows.append([name, bound, f"{measured[key]:.3g} {unit}", "reached" if reached else "**not reached**"])
    scaled = results["whole_job"]["jobs"]["launch as shipped"]["points"] < 10_000
    note = "\n\nFew points were run; seconds are scaled to 10,000." if scaled else ""
    return _table(["Job", "Target", "Measured", ""], rows) + note


def _jobs(found: dict[str, Any]) -> str:
    rows = []
    for name, job in found["jobs"].items():
        share = job["share_of_peak"]
        rows.append([
            name, f"{job['seconds']['1']:.2f}", f"{job['seconds']['2']:.2f}",
            f"{job['processor_seconds']['1']:.2f}", f"{job['cycles_a_point']:.1f}", f"{job['steps_a_cycle']:.0f}",
            f"{job['nanoseconds_a_step']:.1f}", f"{job['operations_a_step']}",
            f"{100 * share:.0f} %" if share else "no compiler",
            ", ".join(f"{count:,} {status}" for status, count in job["points_by_status"].items() if count),
        ])  # fmt: skip
    head = ["", "1 thread [s]", "2 threads [s]", "processor, 1 thread [s]", "cycles a point", "steps a cycle",
            "ns a step", "operations a step", "share of peak", "points"]  # fmt: skip
    return _table(head, rows)


def _peers(found: dict[str, Any]) -> str:
    ours = found["jobs"]["launch as shipped"]
    rows = [["calmshaft, measured", _time(ours["processor_seconds"]["1"]), "1"]]
    for way, seconds in sorted(found["peers"].get("seconds_on_one_thread", {}).items(), key=lambda item: item[1]):
        rows.append([way, _time(seconds), f"{seconds / ours['processor_seconds']['1']:.3g}"])
    rows += [[way, f"left out: {reason}", ""] for way, reason in found["peers"]["left_out"].items()]
    sample = len(found["peers"].get("sampled_points", []))
    return _table([f"{ours['points']:,} points on one thread", f"processor time, others from {sample} points",
                   "over calmshaft's"], rows)  # fmt: skip


def _time(seconds: float) -> str:
    return f"{seconds:.3g} s" if seconds < 120 else f"{seconds / 60:.3g} min"


def _growth(found: dict[str, Any]) -> str:
    rows = [[f"{row['points']:,} points", f"{row['processor_seconds']:.2f}", f"{row['nanoseconds_a_step']:.1f}",
             f"{row['megabytes'] - row['megabytes_before']:.0f}"] for row in found["points"]]  # fmt: skip
    for row in found["inertias"]["rows"]:
        rows.append([f"{row['inertias']} inertias, {row['points']:,} points", f"{row['processor_seconds']:.2f}",
                     f"{row['nanoseconds_a_step']:.1f}", ""])  # fmt: skip
    for row in found["mesh_stiffness"]:
        rows.append([f"teeth {row['factor']:g} times as stiff, {row['steps_a_cycle']:.0f} steps a cycle",
                     f"{row['processor_seconds']:.2f}", f"{row['nanoseconds_a_step']:.1f}", ""])  # fmt: skip
    return _table(["", "processor [s]", "ns a step", "memory more than for 4 points [MB]"], rows)


def _equal_error(found: dict[str, Any]) -> str:
    cases = found["cases"]
    names = list(dict.fromkeys(families(row["way"]) for case in cases.values() for row in case["rows"]))
    rows = []
    for name in names:
        cells = []
        for case in cases.values():
            cells.append(", ".join(_quickest(within, name) for within in case["fastest_within"].values()))
        rows.append([name, *cells])
    rows += [[way, *[f"left out: {reason}"] * len(cases)] for way, reason in found["left_out"].items()]
    compiling = {name: [case["compile_seconds"][name] for case in cases.values() if name in case["compile_seconds"]]
                 for name in ("right-hand side, Numba", "loop, Numba", ODEINT)}  # fmt: skip
    apart = "; ".join(f"{name}: {max(spent):.1f} s" for name, spent in compiling.items() if spent)
    head = [f"{name}, {case['condition']['rpm']:g} rpm" for name, case in cases.items()]
    within = " and ".join(f"{100 * target:g} %" for target in found["targets"])
    return (f"Milliseconds an engine cycle, at the quickest setting within {within}; compiling apart ({apart}; "
            f"Odeint with `{' '.join(ODEINT_FLAGS)}`).\n\n" + _table(["Way", *head], rows))  # fmt: skip


def _quickest(within: dict[str, Any], family: str) -> str:
    found = [row["seconds_a_cycle"] for way, row in within.items() if row and families(way) == family]
    return f"{1e3 * min(found):.2g}" if found else "not reached"
