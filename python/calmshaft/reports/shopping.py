"""The shopping list of `choose` as a page that stands alone: what to look for, why, whether it goes on, cautions."""

from __future__ import annotations

import hashlib
import json

from calmshaft import _core
from calmshaft.choosing.choice import Choice
from calmshaft.choosing.words import HINTS, class_words, fit_rows, limit_words, own_words, sure_words, window_rows
from calmshaft.condition import line_fault
from calmshaft.judgement.cautions import CAUTIONS
from calmshaft.reports.build import page
from calmshaft.reports.figures import HALF, svg_of
from calmshaft.reports.parts import Figure, Notice, Pictures, Points, Section, Table, Text, reworded, tidy, tidy_rows

_SHOWN = ("What this is", "What it rests on", "Fitting a plate", "Bell housing and flywheel", "Rotating parts kill")


def shopping_list(choice: Choice) -> str:
    """One page of HTML without scripts or links to elsewhere. Raises LineError where there is no window."""
    if choice.window is None:
        raise line_fault("choose", choice.line.title, "found no window to show", "see `unmet` of the answer")
    fit_words = "Measure both sides. Judged where [fit.plate] and [fit.line] are both entered."
    sure = f"{sure_words(choice)} {_made(choice)}"
    sections = [
        Section("What to look for", (Table("", window_rows(choice)), Points(class_words(choice)),
                                     Text(own_words(choice)), Pictures(_figures(choice)))),
        Section("Limits worked to, and how sure it is", (Points(limit_words(choice)), Text(sure))),
        Section("Does it go on?", (Text(fit_words), Table("", fit_rows(choice, blank="________")))),
        Section("From the trade", (Points(HINTS),)),
        Section("Cautions", (Notice(tuple((key, CAUTIONS[key]) for key in _SHOWN)),)),
    ]  # fmt: skip
    return page(f"What to look for in a plate: {choice.line.title}", "", False,
                [reworded(one, tidy, tidy_rows) for one in sections])  # fmt: skip


def _figures(choice: Choice) -> tuple[Figure, Figure]:
    """Ranges and curves beside each other."""
    from calmshaft.plots.style import new_figure
    from calmshaft.plots.window import window_curves, window_ranges

    ranges, curves = (new_figure(HALF) for _ in range(2))
    window_ranges(choice, ranges.subplots(), told=False)
    window_curves(choice, curves.subplots())
    bars = "Dark: what to look for. Pale: all that was looked at. Diamond: the plate now in the line."
    band = "Torque over twist of plates inside, up to the least torque at the stop; three of them drawn."
    return (
        Figure("The ranges", bars, svg_of(ranges, "ranges")),
        Figure("The curves", band, svg_of(curves, "curves")),
    )


def _made(choice: Choice) -> str:
    document = json.dumps(choice.line.document, sort_keys=True)
    values = hashlib.sha256(document.encode()).hexdigest()[:12]
    return f"Made by calmshaft {_core.__version__}, values of the line {values}, seed {choice.seed}."
