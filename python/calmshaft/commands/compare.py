"""`compare`: lines, plates and single changes beside each other, healthy and with a cylinder dead."""

from __future__ import annotations

from collections.abc import Iterable
from functools import partial
from pathlib import Path

from calmshaft import Line, load_plate
from calmshaft.commands.common import CAUTION, Exit, all_of, line_named, say, say_json, show_progress, tell
from calmshaft.condition import line_fault
from calmshaft.judgement.comparison import Comparison, Verdict, compare
from calmshaft.output import write_figure
from calmshaft.wording import text_table

NOTES = """
teeth, rattle: share of time out of contact, limit 0.1 % (common practice); at idle: from idle to 1.2 x idle, under
way: above. stop: greatest twist over that of the stop; torque: greatest over the stated one; each with the speed that
decides. one dead: the worst cylinder. Speeds that then ask for more fuel than at rated torque are left out.
"""
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


def run_compare(lines: dict[str, Line], out: Path | None, jobs: int, as_json: bool) -> Exit:
    """Compare, print one table, and where asked write the picture."""
    if len(lines) < 2:
        advice = "name another line, or add --plate FILE or --change KEY=VALUE"
        raise line_fault("compare", next(iter(lines)), "is the only candidate", advice)
    found = compare(lines, threads=jobs, progress=show_progress())
    if as_json:
        say_json({"verdicts": [one.as_dict() for one in found.verdicts]})
    else:
        _say(found)
    if out:
        from calmshaft import plots

        tell(f"written: {write_figure(plots.comparison(found), out / 'comparison.png')}")
    return _exit(found.verdicts)


def _exit(verdicts: Iterable[Verdict]) -> Exit:
    words = {one.word for one in verdicts}
    return Exit.OVER if "over" in words else Exit.NOT_JUDGED if "not judged" in words else Exit.WITHIN


def _say(found: Comparison) -> None:
    names = list(found.lines)
    subjects = list(dict.fromkeys((one.gear, one.cylinders, one.subject) for one in found.verdicts))
    by_key = {(one.line, one.gear, one.cylinders, one.subject): one for one in found.verdicts}
    rows = [["gear", "cylinders", "what", *names]]
    for subject in subjects:
        cells = [by_key.get((name, *subject)) for name in names]
        rows.append([*subject, *(f"{one.word} {one.finding}" if one else "-" for one in cells)])
    say(text_table(rows))
    say(NOTES)
    for name in names:
        words = [one.word for one in found.verdicts if one.line == name]
        counted = ", ".join(f"{words.count(word)} {word}" for word in WORST if word in words)
        say(f"{name}: {counted}.")
    say(f"\n{CAUTION}")
