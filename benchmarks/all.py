"""Every benchmark, one JSON, every picture.

python benchmarks/all.py --out results.json --plots DIRECTORY [--small] [--large]
python benchmarks/all.py --table results.json       prints the tables of README.md from such a file
"""

from __future__ import annotations

import argparse
import json
import sys
import time
from pathlib import Path
from typing import Any

import growth
import growth_plots
import one_condition
import run
import tables
import whole_job
import work_precision_plot


def main() -> None:
    """Measure everything, or print the tables of what was measured."""
    options = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    options.add_argument("--out", type=Path, help="write the JSON to this file")
    options.add_argument("--plots", type=Path, help="draw the pictures into this directory")
    options.add_argument("--small", action="store_true", help="little of each, to see that it runs: about a minute")
    options.add_argument("--large", action="store_true", help="also a sweep of a million points")
    options.add_argument("--table", type=Path, metavar="RESULTS", help="measure nothing, print the tables of this file")
    asked = options.parse_args()
    if asked.table:
        print(tables.markdown(json.loads(asked.table.read_text(encoding="utf-8"))))
        return
    if not asked.out:
        options.error("give --out FILE for the JSON, or --table FILE")
    results = measured(asked.small, asked.large)
    asked.out.write_text(json.dumps(results, indent=2, allow_nan=False) + "\n", encoding="utf-8")
    if asked.plots:
        drawn(results, asked.plots)
    print(tables.markdown(results))


def measured(small: bool, large: bool) -> dict[str, Any]:
    """The results of each script by its name."""
    jobs = {
        "run": lambda: run.jsonable(run.measured(small)),
        "whole_job": lambda: whole_job.measured(small),
        "growth": lambda: growth.measured(small, large),
        "one_condition": lambda: one_condition.measured(small),
    }
    results = {}
    for name, job in jobs.items():
        begun = time.perf_counter()
        results[name] = job()
        print(f"{name}: {time.perf_counter() - begun:.0f} s", file=sys.stderr)
    return results


def drawn(results: dict[str, Any], folder: Path) -> list[Path]:
    """The pictures, and where they are."""
    written = growth_plots.draw(results["growth"], folder)
    work_precision_plot.draw(results["one_condition"], folder / "work_precision.png")
    return [*written, folder / "work_precision.png"]


if __name__ == "__main__":
    main()
