"""`misfiring`: a cylinder that weakens, speeds to avoid, the lowest quiet idle, and the card for the helm."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING, Any

from calmshaft import Condition, Line, QuietIdle, SpeedsToAvoid, misfiring_ladder, quiet_idle, speeds_to_avoid
from calmshaft.commands.common import CAUTION, Exit, say, say_json, tell
from calmshaft.condition import HEALTHY
from calmshaft.misfiring import deciding_measure, filled
from calmshaft.misfiring_words import ladder_rows
from calmshaft.output import write_figure, write_text
from calmshaft.page_text import text_table
from calmshaft.places import name_at
from calmshaft.results import STATUS
from calmshaft.runs import condition_text
from calmshaft.speeds_to_avoid import UNHELD, UNKNOWN

if TYPE_CHECKING:
    import xarray as xr

CALCULATED = "Calculated, not measured. With governed fuelling, in steps of 25 rpm."


@dataclass(frozen=True)
class Found:
    """All that is told of one line."""

    ladder: xr.Dataset
    avoid: tuple[SpeedsToAvoid, ...]
    idles: tuple[QuietIdle, ...]


def run_misfiring(line: Line, at: Condition, out: Path | None, card: Path | None, jobs: int, as_json: bool) -> Exit:
    """Print the ladder, the speeds to avoid and the lowest quiet idle; write the picture and the card where asked."""
    in_gear = at.gear != "neutral"
    avoid = speeds_to_avoid(line, at.gear, load=at.load, threads=jobs) if in_gear else ()
    found = Found(misfiring_ladder(line, at, threads=jobs), avoid, quiet_idle(line, threads=jobs))
    say_json(_document(line, at, found)) if as_json else _say(line, at, found)
    if out is not None:
        from calmshaft import plots
        from calmshaft.plots.style import INK

        name = name_at(line.name, at.with_(misfiring=HEALTHY), "misfiring")
        drawn = plots.misfiring_ladder(found.ladder)
        drawn.suptitle(f"{line.title}: {_asked(at)}", x=0.01, ha="left", fontsize=11, color=INK)
        tell(f"written: {write_figure(drawn, out / f'{name}.png')}")
    if card is not None:
        from calmshaft.reports.card import helm_card

        tell(f"written: {write_text(helm_card(line, avoid, found.idles), card)}")
    return _exit(found)


def _exit(found: Found) -> Exit:
    reasons = {reason for one in found.avoid for reason in one.reasons}
    if reasons - {UNHELD, UNKNOWN}:
        return Exit.OVER
    return Exit.NOT_JUDGED if UNKNOWN in reasons or any(one.remedy is None for one in found.idles) else Exit.WITHIN


def _say(line: Line, at: Condition, found: Found) -> None:
    say(f"{line.title}\n{_asked(at)}; one cylinder at a time, at falling strength")
    say(text_table(ladder_rows(line, found.ladder)))
    say()
    _wrapped(found.ladder.attrs["words"].splitlines())
    if at.gear != "neutral":
        say(f"\nSpeeds to avoid {at.gear}, {at.load}. {CALCULATED}")
        _wrapped(avoid_lines(found.avoid))
    say(f"\nLowest quiet idle: no teeth apart for more than 0.1 % of the time. {CALCULATED}")
    _wrapped(one.words for one in found.idles)
    say(f"\n{CAUTION}")


def _asked(at: Condition) -> str:
    return f"{at.rpm:g} rpm, {at.gear}, {at.load}"


def _wrapped(lines: Any) -> None:
    for text in lines:
        say(f"  {text}")


def avoid_lines(avoid: tuple[SpeedsToAvoid, ...]) -> list[str]:
    """A line a case and range; a case without any says so."""
    lines = []
    for case in ("all fire", "one dead"):
        own = [one.words for one in avoid if one.cylinders == case]
        lines += [f"{case}: {words}" for words in own] or [f"{case}: none from idle to rated speed"]
    return lines


def _document(line: Line, at: Condition, found: Found) -> dict[str, Any]:
    ladder, name = found.ladder, deciding_measure(found.ladder)
    rungs = [
        {"fuelling": str(rung.fuelling.values), "cylinder": int(rung.cylinder), "strength": float(rung.strength),
         "misfiring": str(rung.fault.values), "status": STATUS[int(rung.status)], name: float(filled(rung, name)),
         "mesh_separated_share": float(rung.mesh_separated_share), "mean_rpm": float(rung.mean_rpm),
         "overfuelled": bool(rung.overfuelled)}
        for fuelling in ladder.fuelling for n in ladder.cylinder for strength in ladder.strength
        for rung in [ladder.sel(fuelling=fuelling, cylinder=n, strength=strength)]
    ]  # fmt: skip
    return {
        "title": line.title,
        "condition": condition_text(at.with_(misfiring=HEALTHY)),
        "units": {name: ladder[name].attrs["units"], "mesh_separated_share": "1", "mean_rpm": "rpm"},
        "ladder": rungs,
        "words": ladder.attrs["words"].splitlines(),
        "speeds_to_avoid": [one.as_dict() for one in found.avoid],
        "quiet_idle": [one.as_dict() for one in found.idles],
        "calculated": CALCULATED,
        "caution": CAUTION,
    }
