"""The shopping list of `choose` as a page that stands alone: what to look for, why, whether it goes on, cautions."""

from __future__ import annotations

from calmshaft.choosing.choice import Choice
from calmshaft.choosing.words import HINTS, class_words, fit_rows, own_words, sure_words, window_rows
from calmshaft.judgement.cautions import CAUTIONS
from calmshaft.reports.build import page
from calmshaft.reports.figures import svg_of
from calmshaft.reports.parts import Figure, Notice, Pictures, Points, Section, Table, Text, reworded, tidy, tidy_rows

_SHOWN = ("What this is", "What it rests on", "Fitting a plate", "Bell housing and flywheel", "Rotating parts kill")


def shopping_list(choice: Choice) -> str:
    """One page of HTML without scripts or links to elsewhere. Raises LineError where there is no window."""
    from calmshaft import plots

    figure = plots.plate_window(choice)
    words = "Ranges beside all that was looked at, and torque over twist of plates inside."
    picture = Figure("The window", words, svg_of(figure, "window"), wide=True)
    limits = [aim.words for aim in choice.aims.all]
    limits += list(choice.aims.left_out) + ([] if choice.line.limits else ["no limits are entered in [limits]"])
    sections = [
        Section("What to look for", (
            Table("", window_rows(choice)),
            Points(class_words(choice)),
            Text(own_words(choice)),
            Pictures((picture,)),
        )),
        Section("Limits worked to, and how sure it is", (Points(tuple(limits)), Text(sure_words(choice)))),
        Section("Does it go on?", (
            Text("Measure both sides. Judged where [fit.plate] and [fit.line] are both entered."),
            Table("", fit_rows(choice)),
        )),
        Section("From the trade", (Points(HINTS),)),
        Section("Cautions", (Notice(tuple((key, CAUTIONS[key]) for key in _SHOWN)),)),
    ]  # fmt: skip
    return page(choice.line.title, "", False, [reworded(one, tidy, tidy_rows) for one in sections])
