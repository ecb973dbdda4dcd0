"""What a fixed grid of the shipped launch takes, counted and not timed: no noise, so a small loss shows.

`python tests/python/effort.py` prints the figures beside the kept ones, `--renew` keeps them.
"""

import argparse
import json
from pathlib import Path

import numpy as np

import calmshaft as cs
from calmshaft.results import STATUS

KEPT = Path(__file__).with_name("effort.json")
AXES = {
    "plate.stiffness": ([12.0, 24.0, 48.0], "N*m/deg"),
    "rpm": [700, 1000, 1400, 1900, 2500],
    "misfiring": ["none", "3"],
    "gear": ["ahead", "neutral"],
}


def effort() -> dict[str, float]:
    """Figures of the grid's 60 points: cycles a point, steps a cycle, what settles and what does not."""
    ds = cs.sweep(cs.sample_line("harbour-launch"), AXES)
    cycles, status = ds.cycles.values.ravel(), ds.status.values.ravel()
    return {
        "points": status.size,
        "cycles per point": float(np.mean(cycles)),
        "steps per cycle": float(np.sum(cycles * ds.steps_per_cycle.values.ravel()) / np.sum(cycles)),
        "share not converged": float(np.mean(status >= STATUS.index("aperiodic"))),
    }


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--renew", action="store_true", help="keep today's figures")
    renew = parser.parse_args().renew
    now = effort()
    for name, value in now.items():
        before = json.loads(KEPT.read_text())[name] if KEPT.exists() else float("nan")
        print(f"{name:20} {value:12.4f}   kept {before:12.4f}")
    if renew:
        KEPT.write_text(json.dumps(now, indent=2) + "\n")


if __name__ == "__main__":
    main()
