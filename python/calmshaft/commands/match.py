"""`match`: what the builder hears, the plausible lines that agree with it, and what they tell of each value."""

from __future__ import annotations

from dataclasses import asdict
from functools import partial
from pathlib import Path
from typing import Any

from calmshaft import units
from calmshaft.commands.common import CAUTION, Exit, all_of, line_named, say, say_json, show_progress, tell
from calmshaft.commands.new import refuse_unfit
from calmshaft.matching import Match, Matched, Nearest, match
from calmshaft.matching.found import DETERMINED, FEW, NARROWED, OPEN
from calmshaft.output import write_text
from calmshaft.page_text import paragraph, text_table
from calmshaft.progress import bar
from calmshaft.schema_paths import kind_at
from calmshaft.toml_text import text_of
from calmshaft.wording import listed, number, percent

PAIRS_TOLD = 3
IN = {"neutral": "in neutral", "ahead": "ahead"}
HEAD = """# The case of "{title}" that comes nearest to what was heard: {heard}.
# Values called estimated here were matched by ear: {agreeing} of {tried} plausible cases agree, seed {seed}.
"""
NONE_AGREES = """
No plausible case agrees with what was heard. Either the description is wrong - a value that is given without a range,
or lies outside its range: look first at the plate's springs, free play and friction, at the backlash and at the idle
speed - or the engine is ill: a weak cylinder, uneven injection or a hunting governor makes a rattle that a healthy
engine of this description does not make. A worn gearbox or plate does the same.
"""


def run_match(
    name: str, told: dict[str, Any], cases: int, seed: int, jobs: int, out: Path | None, as_json: bool
) -> Exit:  # fmt: skip
    """Look for the cases, print what they tell, write the best one. Raises LineError."""
    line = all_of(partial(line_named, name), lambda: refuse_unfit(out) if out else None)[0]
    with bar(cases, show_progress()) as report:
        found = match(line, **told, cases=cases, seed=seed, threads=jobs, report=report)
    if as_json:
        say_json(_document(found))
    else:
        _say(found, out)
    if out and found.agreeing:
        head = HEAD.format(title=line.title, heard=_heard(found), agreeing=found.agreeing, tried=found.tried, seed=seed)
        tell(f"written: {write_text(head + text_of(found.best_line().document), out)}")
    elif out:
        tell(f"{out} is not written: no case agrees")
    return Exit.WITHIN if found.agreeing else Exit.NOT_JUDGED


def _heard(found: Match) -> str:
    told, to = found.heard, f"to within {number(found.heard.to)} rpm"
    words = [f"{IN[gear]} the rattle stops at {number(rpm)} rpm ({to})" for gear, rpm in told.quiet_at.items()]
    if told.swing is not None:
        words.append(f"idle speed swings by {percent(told.swing)} (to within {percent(told.swing_to)} of that)")
    return listed(words)


def _say(found: Match, out: Path | None) -> None:
    say(found.line.title)
    say(f"Heard: {_heard(found)}.")
    lost = f" {found.unsolved} were dropped, they have no answer." if found.unsolved else ""
    values = "1 value" if len(found.inputs) == 1 else f"{len(found.inputs)} values"
    say(f"{found.agreeing} of {found.tried} plausible cases agree ({values} drawn, seed {found.seed}).{lost}")
    _say_values(found, out) if found.agreeing else _say_none(found)
    say(f"\n{CAUTION}")


def _say_values(found: Match, out: Path | None) -> None:
    values = found.values()
    told = [one for one in values if one.word != OPEN]
    if told:
        rows = [["key", "word", "now from", "to", "best case", "before from", "to", "interval left"]]
        say("\n" + text_table(rows + [_row(one) for one in told]))
        say(f"  Each interval holds the value in {percent(found.coverage)} of such cases, if the description is right.")
    else:
        say("\nWhat was heard determines no value more closely than its range does.")
    for path, other, together in found.told_together()[:PAIRS_TOLD]:
        way = "more of one goes with more of the other" if together > 0 else "more of one goes with less of the other"
        say(f"  {path} and {other} are told of together only: {way}.")
    still = [one.path for one in values if one.word == OPEN]
    if still:
        say(f"Not determined by what was heard: {', '.join(still)}.")
    if found.agreeing < FEW:
        say(f"Only {found.agreeing} cases agree: the intervals are rough. Ask for more with --cases.")
    best = found.best()
    stops = [f"{IN[gear]} its rattle stops at {number(stop[best])} rpm" for gear, stop in found.stops.items()]
    swing = [f"its idle speed swings by {percent(found.swings[best])}"] if found.heard.swing is not None else []
    hint = "" if out else " --out NAME.toml writes it as a line file."
    say(f"\nBest case: {listed(stops + swing)}.{hint}")


def _row(one: Matched) -> list[str]:
    kind = kind_at(one.path) or "pure"
    low, high, best, *before = (units.show(value, kind) for value in (*one.after, one.best, *one.before))
    return [one.path, one.word, low, high, best, *before, percent(one.left)]


def _say_none(found: Match) -> None:
    say(f"\n{paragraph(NONE_AGREES)}\n")
    for one in found.nearest:
        say(_near_words(one))
    if found.nearest_swings is not None and found.heard.swing is not None:
        low, high, measured = map(percent, (*found.nearest_swings, found.heard.swing))
        say(f"In neutral: idle speed swings by {low} to {high} in the cases looked at, measured {measured}.")
    alone = found.met_alone()
    if len(alone) > 1 and all(alone):
        say("Each is met by cases, all together by none: hear each of them again, or try them one at a time.")


def _near_words(one: Nearest) -> str:
    heard = f"heard at {number(one.heard)} rpm"
    if one.nearest != one.nearest:
        words = f"{IN[one.gear].capitalize()}: of {one.cases} cases none has a rattle that stops, {heard};"
    else:
        words = f"{IN[one.gear].capitalize()}: in {one.cases} cases the rattle stops between {number(one.lowest)} and "
        words += f"{number(one.highest)} rpm, the nearest at {number(one.nearest)} rpm, {heard};"
    return (
        f"{words} {one.quiet} are quiet from the lowest speed on, {one.rattling} nowhere up to {number(one.up_to)} rpm."
    )


def _document(found: Match) -> dict[str, Any]:
    told = found.heard
    best = found.best() if found.agreeing else None
    return {
        "title": found.line.title,
        "heard": {"quiet_at_rpm": dict(told.quiet_at), "heard_to_rpm": told.to, "idle_swing": told.swing,
                  "swing_to": told.swing_to},
        "agreeing": found.agreeing, "tried": found.tried, "unsolved": found.unsolved, "seed": found.seed,
        "coverage": found.coverage,
        "values": [{"key": one.path, "word": one.word, "low": one.after[0], "high": one.after[1], "best": one.best,
                    "low_before": one.before[0], "high_before": one.before[1], "left": one.left}
                   for one in found.values()],
        "counts": {word: sum(one.word == word for one in found.values()) for word in (DETERMINED, NARROWED, OPEN)},
        "told_together": [{"keys": [one, other], "rank_correlation": rho} for one, other, rho in found.told_together()],
        "best": None if best is None else {
            "quiet_at_rpm": {gear: stop[best] for gear, stop in found.stops.items()},
            "idle_swing": found.swings[best],
            "line": found.best_line().document,
        },
        "nearest": [asdict(one) for one in found.nearest],
        "nearest_swings": found.nearest_swings,
        "explanations": [] if found.agreeing else [paragraph(NONE_AGREES)],
        "caution": CAUTION,
    }  # fmt: skip
