"""`run`: one steady condition, measured and judged."""

from __future__ import annotations

import math
from pathlib import Path

from calmshaft import Condition, Line, Run, steady
from calmshaft.commands.bands import (
    HIGH_HEAD,
    LOW_HEAD,
    cases_words,
    document,
    ends_of,
    past_limits,
    quick_band,
    told_limit,
)
from calmshaft.commands.common import CAUTION, Exit, exit_for, say, say_json, tell
from calmshaft.judgement import judge
from calmshaft.output import write_figure, write_netcdf
from calmshaft.page_text import text_table
from calmshaft.places import name_at
from calmshaft.results import MEASURES
from calmshaft.runs import condition_text
from calmshaft.uncertainties.monte_carlo import Uncertainty
from calmshaft.wording import in_workshop_units, number, status_words

# In the order of weight: where teeth part, peaks are an indication only.
_FIRST = ("mesh_separated_share", "mesh_coast_share", "mesh_torque_min", "mesh_torque_vibratory", "mesh_torque_mean")


def run(line: Line, at: Condition, out: Path | None, as_json: bool, with_band: bool = True) -> Exit:
    """Print one steady condition, its answers as bands; with `out` also write its signals and a torque trace."""
    found = steady(line, at)
    judged = judge(line, found)
    band = quick_band(line, at) if with_band else None
    if as_json:
        say_json(_document(found, judged, band))
    else:
        _say(line, found, band)
        for one in judged:
            say(f"  {one.word:10}  {one.subject}: {one.finding}")
        say(f"\n{CAUTION}")
    if out is not None and found.signals is not None:
        _write(line, found, out)
    return exit_for(judged, found.status)


def _say(line: Line, found: Run, band: Uncertainty | None) -> None:
    say(line.title)
    say(condition_text(found.at))
    say(f"The motion {status_words(found.status, found.period_cycles, found.reason)}.")
    if found.signals is None:
        _say_band(band)
        return
    fuel = f"Fuelling {100 * found.fuelling:.0f} % of that at rated torque"
    say(fuel + (": more than the engine is rated for." if found.overfuelled else "."))
    say(text_table(_rows(found, band)))
    _say_band(band)
    if line.has_plate:
        _say_plate(found)
    say(f"\n{_sources_words(line)}")
    say()


def _say_plate(found: Run) -> None:
    from calmshaft.duty import plate_duty
    from calmshaft.duty.words import sentences, spring_rows

    duty = plate_duty(found)
    say(f"\nThe plate ({duty.title})")
    for sentence in sentences(duty):
        say(f"  {sentence}.")
    if rows := spring_rows(duty):
        say(text_table(rows))


def _plate_document(found: Run) -> dict | None:
    if not found.line.has_plate or found.signals is None:
        return None
    from calmshaft.duty import plate_duty
    from calmshaft.duty.words import plain

    return plain(plate_duty(found))


def _sources_words(line: Line) -> str:
    estimated = sum(quantity.source == "estimated" for quantity in line.quantities.values())
    if not estimated:
        return "All values are given; none is estimated."
    return (
        f"{estimated} of {len(line.quantities)} values are estimated, and the answer is no surer than they are: "
        "`calmshaft check` lists them, the widest ranges first."
    )


def _say_band(band: Uncertainty | None) -> None:
    """How the answer is spread, and how many plausible cases lie past a limit."""
    if band is None:
        return
    say(f"{cases_words(band)} `calmshaft uncertainty` draws more.")
    touched = [told for told in past_limits(band) if told.count or told.word != "within"]
    for told in touched:
        say(told_limit(told))
    if not touched:
        say("  None of them goes past a limit: teeth, the plate's stop and stated torque, the line's [limits].")


def _rows(found: Run, band: Uncertainty | None) -> list[list[str]]:
    """Columns of cycles only where the motion does not repeat, of the band only where there is one."""
    cycles = ["lowest cycle", "highest cycle"] if found.status == "aperiodic" else []
    rows = [["measure", "as described", *([LOW_HEAD, HIGH_HEAD] if band else []), *cycles, "unit"]]
    measures = {measure.name: measure for measure in MEASURES}
    for name in [*_FIRST, *(name for name in measures if name not in _FIRST)]:
        measure = measures[name]
        value, unit = in_workshop_units(measure, found.best(name))
        if math.isnan(value):
            continue
        spread = found.spread[name]
        ends = [in_workshop_units(measure, spread[end])[0] for end in ("lowest_cycle", "highest_cycle")]
        shown = [number(end) for end in ends] if measure.has_spread else ["", ""]
        low_high = ends_of(band, name)[::2] if band else []
        rows.append([measure.meaning, number(value), *low_high, *(shown if cycles else []), unit])
    return rows


def _write(line: Line, found: Run, out: Path) -> None:
    from calmshaft import plots
    from calmshaft.plots.style import titled

    drawn = plots.torque_trace(found)
    titled(drawn, f"{line.title}: {condition_text(found.at)}")
    written = [
        write_netcdf(found.signals, out / f"{name_at(line.name, found.at, 'signals')}.nc"),
        write_figure(drawn.figure, out / f"{name_at(line.name, found.at, 'torque')}.png"),
    ]
    tell("written: " + ", ".join(str(path) for path in written))


def _document(found: Run, judged: tuple, band: Uncertainty | None) -> dict:
    return {
        "title": found.line.title,
        "condition": condition_text(found.at),
        "status": found.status,
        "reason": found.reason,
        "period_cycles": found.period_cycles,
        "fuelling": found.fuelling,
        "overfuelled": found.overfuelled,
        "measures": {
            m.name: {"value": found.measures[m.name], "unit": m.unit, "meaning": m.meaning, **found.spread[m.name]}
            for m in MEASURES
        },
        "band": band and document(band, tuple(m.name for m in MEASURES if math.isfinite(found.best(m.name)))),
        "orders": [abs(amplitude) for amplitude in found.orders],
        "plate": _plate_document(found),
        "energy_audit": found.energy_audit,
        "judgement": [one.as_dict() for one in judged],
        "caution": CAUTION,
    }
