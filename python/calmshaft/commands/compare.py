"""`compare`: lines, plates and single changes beside each other, healthy and with a cylinder dead."""

from __future__ import annotations

from dataclasses import asdict
from functools import partial
from pathlib import Path
from typing import Any

from calmshaft import Line, critical_speeds, load_plate
from calmshaft.commands.common import CAUTION, Exit, all_of, exit_for, line_named, say, say_json, show_progress, tell
from calmshaft.commands.vary import axes_of
from calmshaft.condition import Condition, line_fault, misfiring_label
from calmshaft.judgement.comparison import ON_COAST, Comparison, Verdict, compare
from calmshaft.judgement.over_speed import SHARE
from calmshaft.output import write_figure
from calmshaft.page_text import paragraph, text_table
from calmshaft.places import name_of
from calmshaft.wording import listed, number

NOTES = """
Judged from idle speed on. Teeth are those of the loaded mesh, rattle is of the free pairs: share of time out of
contact, limit 0.1 % (common practice), coast: on the coast flanks; at idle: up to 1.2 x idle, under way: above. Where
no document is named below, the limit is the line's own: angle of the stop, stated torque, mean torque. One dead: the
worst cylinder; worked out once where they fire evenly, since with a rigid crank it is the same which one it is. Speeds
that ask for more fuel than at rated torque are left out: none can hold them.
"""
BAND_NOTE = """
Plausible cases: the same point for {count} lines drawn from the ranges of the line's values, the same draws for all
lines: one in twenty lies below and one above, and how many are over. Peaks that never repeat count by their mean there.
"""
GEARS = ["ahead", "neutral"]
PLAUSIBLE = 40  # about as long again as the comparison itself
WORST = ("over", "not judged", "near", "within")


def variants(names: list[str], plates: list[Path], changes: list[str]) -> dict[str, Line]:
    """The lines as named, and the first of them with each plate and each change.

    Raises LineError with the faults of all at once, and where two have one name.
    """
    lines = all_of(*(partial(line_named, name) for name in names), *(partial(load_plate, path) for path in plates))
    first = lines[0]
    changed = all_of(*(partial(_changed, first, text) for text in changes))
    found = [(Path(name).stem, line) for name, line in zip(names, lines, strict=False)]
    found += [(path.stem, first.with_plate(path)) for path in plates]
    found += [(text.strip(), line) for text, line in zip(changes, changed, strict=True)]
    titles = [title for title, _ in found]
    twice = sorted({title for title in titles if titles.count(title) > 1})
    if twice:
        raise line_fault("compare", twice[0], "stands for two candidates", "give each file its own name")
    return dict(found)


def _changed(line: Line, text: str) -> Line:
    path, equals, value = (part.strip() for part in text.partition("="))
    if not equals or not path or not value:
        raise line_fault("--change", text, "needs a key and a value", 'write for instance "engine.idle_rpm = 850"')
    bare = value.replace(".", "", 1).isdigit()
    return line.replace({path: float(value) if bare else value})


def options_of(
    misfiring: list[str] | None, gears: list[str] | None, rpm: str, load: str, jobs: int, band: bool = True
) -> dict[str, Any]:
    """Options of cs.compare from those of the command. Raises LineError with the faults of all at once."""
    for_gears = gears or GEARS
    *_, axes = all_of(*(partial(Condition, 1.0, gear) for gear in for_gears), partial(Condition, 1.0, load=load),
                      *(partial(misfiring_label, label) for label in misfiring or []),
                      lambda: axes_of([f"rpm = {rpm}"] if rpm else []))  # fmt: skip
    return {
        "rpm": axes.get("rpm"),
        "gears": for_gears,
        "misfiring": misfiring,
        "load": load,
        "threads": jobs,
        "plausible": PLAUSIBLE if band else 0,
    }


def run_compare(lines: dict[str, Line], out: Path | None, as_json: bool, options: dict[str, Any]) -> Exit:
    """Compare, print one table, and where asked write the picture. options: those of cs.compare."""
    if len(lines) < 2:
        advice = "name another line, or add --plate FILE or --change KEY=VALUE"
        raise line_fault("compare", next(iter(lines)), "is the only candidate", advice)
    found = compare(lines, progress=show_progress(), **options)
    if as_json:
        critical = {name: [asdict(one) for one in critical_speeds(line)] for name, line in lines.items()}
        judged = [one.as_dict() for one in found.verdicts]
        say_json({"verdicts": judged, "critical_speeds": critical, "caution": CAUTION})
    else:
        say_comparison(found)
        say(f"\n{CAUTION}")
    if out:
        from calmshaft import plots

        name = name_of(*lines, *_asked(options), "comparison")
        tell(f"written: {write_figure(plots.comparison(found), out / f'{name}.png')}")
    return exit_for(found.verdicts)


def _asked(options: dict[str, Any]) -> list[str]:
    """What tells this comparison from the usual one of the same lines."""
    gears, load = options["gears"], options["load"]
    words = [] if gears == GEARS else gears
    words = [*words, *("speeds" for _ in (options["rpm"] or [])[:1]), *(options["misfiring"] or [])]
    return words if load == "under way" else [*words, load]


def say_comparison(found: Comparison) -> None:
    """One table, a row a line under each subject; what is not judged and why; how often each word stands."""
    rows = [["line", "judged", "found / limit", "margin", "rpm", "plausible cases"]]
    judged = [one for one in found.verdicts if one.word != "not judged"]
    for subject in dict.fromkeys((one.gear, one.cylinders, one.subject) for one in judged):
        members = [one for one in judged if (one.gear, one.cylinders, one.subject) == subject]
        rows += [[_heading(*subject)], *(_cells(one) for one in members)]
    banded = any(one.plausible for one in judged)
    say(text_table(rows if banded else [row[:-1] if len(row) > 1 else row for row in rows]))
    say(f"\n{paragraph(NOTES)}\n")
    if banded:
        say(f"{paragraph(BAND_NOTE).format(count=max(one.plausible for one in judged))}\n")
    for one in dict.fromkeys(f"{one.subject}: limit by {one.document}." for one in judged if one.document):
        say(one)
    for text in _open(found):
        say(text)
    say("\nCritical speeds from idle to rated speed, all cylinders firing, lowest order of each mode (linear view):")
    for name, line in found.lines.items():
        say(f"  {name}: {_critical_words(line)}")
    say()
    for name in found.lines:
        words = [one.word for one in found.verdicts if one.line == name]
        counted = ", ".join(f"{words.count(word)} {word}" for word in WORST if word in words)
        say(f"{name}: {counted}.")


def _heading(gear: str, cylinders: str, subject: str) -> str:
    return f"{gear}, {cylinders}: {subject}"


def short_rows(found: Comparison) -> list[list[str]]:
    """The same in short, a column a line: the word, with the number of time or margin and the speed that decide."""
    rows = [["what", *found.lines]]
    judged = {(one.gear, one.cylinders, one.subject, one.line): one for one in found.verdicts if one.matters}
    for gear, cylinders in dict.fromkeys(key[:2] for key in judged):
        rows.append([f"{gear}, {cylinders}"])
        for subject in dict.fromkeys(key[2] for key in judged if key[:2] == (gear, cylinders)):
            members = [judged.get((gear, cylinders, subject, name)) for name in found.lines]
            rows.append([subject, *("-" if one is None else _short(one) for one in members)])
    return rows


def _short(one: Verdict) -> str:
    if one.word == "not judged":
        return one.word
    words = one.margin_words or one.value_words
    if words.endswith(" over"):
        words = f"by {words.removesuffix(' over')}"
    return f"{one.word} {words}" + (f", {number(one.rpm)} rpm" if one.value > 0 else "")


def _critical_words(line: Line) -> str:
    """Of each mode the lowest order that meets it: it carries most."""
    lowest = {one.mode: one for one in sorted(critical_speeds(line), key=lambda one: -one.order)}
    met = [f"order {one.order:g} at {number(one.rpm)} rpm, {one.words}" for one in lowest.values()]
    return "; ".join(met) or "none"


def _open(found: Comparison) -> list[str]:
    """What is not judged, once for all lines, gears and cylinders of which the same is to be said."""
    said: dict[tuple[str, str], list[Verdict]] = {}
    for one in found.verdicts:
        if one.word == "not judged":
            said.setdefault((one.subject, one.finding), []).append(one)
    texts = []
    for (subject, finding), members in said.items():
        names = list(dict.fromkeys(one.line for one in members))
        cases = list(dict.fromkeys(f"{one.gear} with {one.cylinders}" for one in members if one.matters))
        of = [] if len(names) == len(found.lines) else [listed(names)]
        where = f" ({'; '.join([*of, *cases])})" if of or cases else ""
        texts.append(f"{subject}{where}: not judged, {finding}.")
    return texts


def _cells(one: Verdict) -> list[str]:
    name = f"{one.line}, {one.cylinder} dead" if one.cylinder else one.line
    at = number(one.rpm) if one.value > 0 else ""
    return [name, one.word, _beside(one), one.margin_words, at, one.band_words]


def _beside(one: Verdict) -> str:
    """ "112 / 17 N m", "13.2 / 0.1 %, coast 2 %"."""
    unit = "%" if one.unit == SHARE else one.unit
    coast = [part for part in one.finding.split(", ") if part.endswith(ON_COAST)]
    words = f"{one.value_words.removesuffix(unit).rstrip()} / {one.limit_words}"
    return words + "".join(f", coast {part.removesuffix(ON_COAST)}" for part in coast)
