"""`uncertainty`: answers as bands, how many plausible cases lie past a limit, which value matters most."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

from calmshaft import Condition, Line, units
from calmshaft.commands.bands import band_table, cases_words, document, past_limits, told_limit
from calmshaft.commands.check_sources import how_words, shop_words
from calmshaft.commands.common import CAUTION, Exit, say, say_json, show_progress, tell
from calmshaft.output import write_figure
from calmshaft.page_text import text_table
from calmshaft.places import name_at
from calmshaft.progress import bar
from calmshaft.runs import condition_text
from calmshaft.schema_paths import kind_at
from calmshaft.uncertainties.asked import measure_named
from calmshaft.uncertainties.influence import Influence
from calmshaft.uncertainties.monte_carlo import MeasureNext, Uncertainty, uncertainty
from calmshaft.uncertainties.ranges import how_to_measure, where_measured
from calmshaft.uncertainties.tornado import Swing, Tornado, tornado
from calmshaft.wording import in_workshop_units, number

MOST_TOLD = 10  # inputs
ENOUGH = 400  # cases to tell from them what would be left of a band: tenths of a range then hold forty


def run_uncertainty(
    line: Line, at: Condition, measure: str | None, limit: str | None, cases: int, seed: int, method: str, jobs: int,
    out: Path | None, as_json: bool,
) -> Exit:  # fmt: skip
    """Draw the cases, print or write what they say. Raises LineError."""
    with bar(cases, show_progress()) as report:
        found = uncertainty(line, at, cases, seed, measure, limit, None, jobs, method, report)
    swings = tornado(line, at, found.measures[0], threads=jobs)
    if as_json:
        say_json(_document(found, swings))
    else:
        _say(found, swings)
    if out is not None:
        _draw(found, swings, out, name_at(line.name, at, measure or ""))
    return _exit(found)


def _exit(found: Uncertainty) -> Exit:
    lost = sum(found.unsolved().values())
    if lost == found.cases:
        return Exit.NUMERICAL
    if lost:
        return Exit.PARTIAL
    return Exit.OVER if any(told.word == "over" for told in past_limits(found)) else Exit.WITHIN


def _say(found: Uncertainty, swings: Tornado) -> None:
    say(found.line.title)
    say(condition_text(found.at))
    say(f"{cases_words(found)} Method {found.method}, seed {found.seed}.")
    say(band_table(found))
    say()
    for told in past_limits(found):
        say(told_limit(told))
    _say_swings(found, swings)
    first, in_shop = _next(found, swings), _next(found, swings, before_assembly=True)
    say(f"\n{_next_words(first)}")
    if first is not None and (in_shop is None or first.path != in_shop.path):
        little = in_shop is not None and found.cases >= ENOUGH and math.isnan(in_shop.now)
        say(f"{shop_words(in_shop)}{' It alone narrows this band by less than a twentieth.' if little else ''}")
    say(f"\n{CAUTION}")


def _say_swings(found: Uncertainty, swings: Tornado) -> None:
    measure = measure_named(swings.measure)
    unit = in_workshop_units(measure, 0.0)[1]
    influences = {one.path: one for one in found.influences()} if found.cases >= ENOUGH else {}
    say(f"\nOne value at a time at the ends of its range, the others as described: {measure.meaning} [{unit}]")
    rows = [["key", "low end", "there", "high end", "there", *(["band if known"] if influences else [])]]
    told, now = swings.swings[:MOST_TOLD], found.band().width
    say(text_table(rows + [_row(one, measure, influences.get(one.path), now) for one in told]))
    band = in_workshop_units(measure, now)[0]
    for part in list(dict.fromkeys(_part_words(one.part) for one in influences.values())):
        say(f"  band if known: its mean width were that value known to {part} of its range; now {number(band)} {unit}.")
    for one in swings.unsolved():
        say(f"  {one.path}: low end {one.status_low}, high end {one.status_high}.")


def _row(one: Swing, measure: Any, influence: Influence | None, now: float) -> list[str]:
    """now: width of the whole band; by chance, the mean width inside parts of a range may come out above it."""
    kind = kind_at(one.path) or "pure"
    cells = []
    for value, answer in ((one.quantity.low, one.at_low), (one.quantity.high, one.at_high)):
        cells += [units.show(value, kind), number(in_workshop_units(measure, answer)[0])]
    left = [number(in_workshop_units(measure, min(influence.remaining, now))[0])] if influence else []
    return [one.path, *cells, *left]


def _part_words(part: float) -> str:
    names = {2: "half", 3: "a third", 4: "a quarter", 5: "a fifth", 10: "a tenth"}
    return names.get(round(1 / part), f"1/{round(1 / part)}")


def _next(found: Uncertainty, swings: Tornado, before_assembly: bool = False) -> MeasureNext | None:
    """By the cases where there are enough, else by one value at a time: then nothing is said of what remains.

    So too where no value of the workshop narrows the band by itself: the parts lie on the bench but once.
    """
    if found.cases >= ENOUGH:
        first = found.measure_next(before_assembly=before_assembly)
        if first is not None or not before_assembly:
            return first
    one = swings.measure_next(before_assembly)
    if one is None:
        return None
    how = how_to_measure(one.path, one.quantity)
    return MeasureNext(one.path, one.quantity, swings.measure, math.nan, math.nan, math.nan, how)


def _next_words(first: MeasureNext | None) -> str:
    if first is None:
        return "Measure next: no single value that a workshop can measure would narrow this band by a twentieth."
    how = how_words(first.path, first.quantity)
    if math.isnan(first.now):
        return f"By itself one value moves the answer most. Measure next: {how}"
    now, unit = in_workshop_units(measure_named(first.measure), first.now)
    left, _ = in_workshop_units(measure_named(first.measure), first.remaining)
    return (
        f"Measure next: {how} Known to {_part_words(first.part)} of its range, it would leave a band of "
        f"{number(left)} {unit} on the average, in place of {number(now)} {unit}."
    )


def _next_document(one: MeasureNext | None) -> dict[str, Any] | None:
    if one is None:
        return None
    where = where_measured(one.path, one.quantity)
    return {"key": one.path, "now": one.now, "remaining": one.remaining, "known_to": one.part, "where": where,
            "how_to_measure": one.how_to_measure}  # fmt: skip


def _document(found: Uncertainty, swings: Tornado) -> dict[str, Any]:
    return {
        "title": found.line.title,
        "condition": condition_text(found.at),
        **document(found),
        "measure": found.measures[0],
        "tornado": [
            {"key": one.path, "low": one.quantity.low, "at_low": one.at_low, "status_low": one.status_low,
             "high": one.quantity.high, "at_high": one.at_high, "status_high": one.status_high}
            for one in swings.swings
        ],
        "influences": [
            {"key": one.path, "rank_correlation": one.rank_correlation, "variance_share": one.variance_share,
             "remaining": one.remaining, "known_to": one.part}
            for one in found.influences()
        ],
        "measure_next": _next_document(_next(found, swings)),
        "measure_before_assembly": _next_document(_next(found, swings, before_assembly=True)),
        "caution": CAUTION,
    }  # fmt: skip


def _draw(found: Uncertainty, swings: Tornado, out: Path, name: str) -> None:
    from calmshaft import plots

    written = [
        write_figure(plots.cases(found).figure, out / f"{name}-cases.png"),
        write_figure(plots.tornado(swings).figure, out / f"{name}-tornado.png"),
    ]
    tell("written: " + ", ".join(str(path) for path in written))
