"""Bands and cases past a limit, in words: shared by all commands that tell how sure an answer is."""

from __future__ import annotations

from typing import Any

from calmshaft import Condition, Line, LineError
from calmshaft.commands.check_sources import say_what_matters
from calmshaft.commands.common import idle_rpm, say, tell
from calmshaft.page_text import text_table
from calmshaft.results import MEASURES
from calmshaft.runs import condition_text, usual_gear
from calmshaft.uncertainties.asked import measure_named, usual_measures
from calmshaft.uncertainties.bands import PastLimit
from calmshaft.uncertainties.cases import check_condition
from calmshaft.uncertainties.monte_carlo import Uncertainty, uncertainty
from calmshaft.wording import in_workshop_units, listed, number, percent

QUICK_CASES = 100  # for a band beside an answer: about a second on two cores
SEED = 1
LOW_HEAD, HIGH_HEAD = "5 % are below", "5 % are above"


def quick_band(line: Line, at: Condition) -> Uncertainty | None:
    """A band from few cases, the same each time; None with a note where there can be none."""
    try:
        return uncertainty(line, at, QUICK_CASES, SEED, method="latin")
    except LineError as error:
        tell(f"note: no band beside the answers: {error}")
        return None


def say_first_answer(line: Line) -> None:
    """The band at idle of a line that has just been written, and what to measure first."""
    at = Condition(rpm=round(idle_rpm(line), 3), gear=usual_gear(line))
    try:
        check_condition(line, at)
    except LineError as error:
        say(f"\nA first answer cannot be had yet. {error}")
        return
    found = quick_band(line, at)
    if found is None:
        return
    say(f"\nA first answer: {condition_text(at)}")
    say(cases_words(found))
    say(band_table(found))
    say()
    for told in past_limits(found):
        say(told_limit(told))
    say_what_matters(line, at)


def told_limit(told: PastLimit) -> str:
    """One limit with its word."""
    return f"  {limit_words(told)}"


def cases_words(found: Uncertainty) -> str:
    """How many cases were drawn, of what, and how many have no answer."""
    lost = found.unsolved()
    told = listed([f"{count} {word}" for word, count in lost.items()])
    rest = f"{sum(lost.values())} have no answer ({told})" if lost else "all have an answer"
    values = "1 value" if len(found.inputs) == 1 else f"{len(found.inputs)} values"
    return f"{found.cases} plausible cases, {values} drawn within their ranges; {rest}."


def ends_of(found: Uncertainty, name: str) -> list[str]:
    """Low end, median and high end of a measure's band, in workshop units."""
    band, measure = found.band(name), measure_named(name)
    return [number(in_workshop_units(measure, one)[0]) for one in (band.low, band.median, band.high)]


def band_table(found: Uncertainty) -> str:
    """The bands of the measures asked for, then of the usual ones."""
    rows = [["measure", "as described", LOW_HEAD, "median", HIGH_HEAD, "unit"]]
    names = [*found.measures, *(name for name in usual_measures(found.at) if found.has(name))]
    for name in dict.fromkeys(names):
        start, unit = in_workshop_units(measure_named(name), found.band(name).start)
        rows.append([measure_named(name).meaning, number(start), *ends_of(found, name), unit])
    return text_table(rows)


def limit_words(told: PastLimit) -> str:
    """ "over   share of time ...: above 0.1 % in 81 % of the cases (79 to 83 %)"."""
    measure = measure_named(told.measure)
    limit, unit = in_workshop_units(measure, told.limit)
    if told.word == "not judged":
        return f"{told.word:10}  {measure.meaning}: no case has an answer"
    low, high = (percent(end).removesuffix(" %") for end in told.interval)
    where = f"{'below' if told.downwards else 'above'} {number(limit)} {unit}"
    words = f"{told.word:10}  {measure.meaning}: {where} in {percent(told.share)} of the cases"
    words += f" ({low} to {high} %, from {told.solved} cases)"
    if told.unsolved:
        words += f"; {percent(told.least)} to {percent(told.most)} with those that have no answer"
    return words


def past_limits(found: Uncertainty) -> list[PastLimit]:
    """Every limit that was asked for."""
    return [found.past_limit(name) for name in found.limits]


def document(found: Uncertainty, names: tuple[str, ...] | None = None) -> dict[str, Any]:
    """Plain SI values: bands of all measures, or of those named, and cases past each limit."""
    bands = {}
    for name in names or tuple(measure.name for measure in MEASURES):
        band = found.band(name)
        bands[name] = {"start": band.start, "low": band.low, "median": band.median, "high": band.high,
                       "unit": measure_named(name).unit}  # fmt: skip
    return {
        "cases": found.cases,
        "method": found.method,
        "seed": found.seed,
        "unsolved": found.unsolved(),
        "bands": bands,
        "limits": [_plain(told) for told in past_limits(found)],
    }


def _plain(told: PastLimit) -> dict[str, Any]:
    return {
        "measure": told.measure,
        "limit": told.limit,
        "unit": measure_named(told.measure).unit,
        "side": "below" if told.downwards else "above",
        "past": told.count,
        "solved": told.solved,
        "unsolved": told.unsolved,
        "share": told.share,
        "standard_error": told.standard_error,
        "interval_95": list(told.interval),
        "word": told.word,
    }
