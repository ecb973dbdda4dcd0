"""The built-in formulas that judge something, each with its document, clause, and how its text was had."""

from __future__ import annotations

from calmshaft.judgement import couplings, fatigue, gears, shafts
from calmshaft.judgement.sources import FROM_MEMORY, Source
from calmshaft.line import Line
from calmshaft.reports.parts import Table

_OURS = Source("common practice, no source", text=FROM_MEMORY)
USED = (
    ("gear teeth: vibratory torque against mean", gears.HAMMER),
    ("teeth out of contact for more than 0.1 % of the time", _OURS),
    ("plate: nominal, greatest and alternating torque", couplings.SELECTION),
    ("plate: magnifier of a two-mass line", couplings.MAGNIFICATION),
    ("plate: dissipated heat", couplings.HEAT),
    ("shaft: torsional vibration stress, only where it applies", shafts.STRESS),
    ("shaft: size factor", shafts.SIZE),
    ("shaft: barred speed range", shafts.BARRED),
    ("springs: endurance", fatigue.UNPEENED_AMPLITUDE.source),
    ("springs: shear over tensile strength", fatigue.SHEAR_OVER_TENSILE.source),
    ("springs: sum of damage at failure", fatigue.FAILURE_SUM.source),
)


def formulas(line: Line) -> Table:
    """All of them, then the limits that the user entered."""
    rows = [["what it judges", "document", "clause", "its text"]]
    rows += [[what, one.document, one.clause, one.text.partition(":")[0]] for what, one in USED]
    rows += [
        [key.replace("_", " "), limit.document or "", "", "entered by the user"] for key, limit in line.limits.items()
    ]
    return Table(
        "Formulas and limits: those from memory must be checked against the current text before they are quoted", rows
    )
