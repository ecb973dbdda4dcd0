"""`check`: the line as it was understood."""

from __future__ import annotations

from calmshaft import Condition, Line, _core, modes
from calmshaft.commands.check_sources import say_sources, say_what_matters
from calmshaft.commands.check_water import say_water
from calmshaft.commands.common import say, say_json
from calmshaft.judgement.entered import limit_rows
from calmshaft.page_text import text_table
from calmshaft.runs import condition_text, cylinders, prepared
from calmshaft.summary import coupling_rows, mode_rows, station_rows
from calmshaft.uncertainties.frequencies import frequency_bands


def check(line: Line, at: Condition, as_json: bool) -> None:
    """Print stations, couplings, sources and natural frequencies of a line."""
    if as_json:
        say_json(line.resolved(at))
        return
    system = _core.mass_elastic_system(prepared(line), at.core(cylinders(line)))
    found = modes(line, at)
    say(line.title)
    say(f"as understood at {condition_text(at)}")
    say("\nStations (each inertia in its own shaft's frame)")
    say(text_table(station_rows(system)))
    say("\nCouplings")
    say(text_table(coupling_rows(system)))
    say("\nNatural frequencies at the mean torque, teeth in contact")
    say(text_table(mode_rows(found, line, frequency_bands(line, at))))
    say_water(line)
    if line.limits:
        say("\nLimits entered; `calmshaft run` judges by them")
        say(text_table(limit_rows(line)))
    say_sources(line)
    say_what_matters(line, at)
