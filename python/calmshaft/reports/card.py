"""The card for the helm: one page in large type, speeds to avoid, the lowest quiet idle, what to do, cautions."""

from __future__ import annotations

import hashlib
import json
import math
from collections.abc import Sequence
from datetime import UTC, datetime
from pathlib import Path

from calmshaft import _core
from calmshaft.line import Line
from calmshaft.quiet_idle import QuietIdle
from calmshaft.speeds_to_avoid import TEETH, UNHELD, SpeedsToAvoid
from calmshaft.wording import number

# Common practice, no source: an engine maker's own instructions come first.
TO_DO = (
    "Take load off at once: half of the usual torque or less.",
    "Stay out of the speeds above. Where the gear is noisy or the speed hunts, choose another speed.",
    "Keep the compression of the dead cylinder; cut its fuel if that can be done from outside.",
    "Watch exhaust and cooling water. Unburnt fuel in the exhaust can catch fire.",
    "Within half an hour stop, where that can be done. Is the bell housing hotter than usual, is there powder or metal "
    "below it? Then do not go on.",
    "Find the cause. Afterwards have the damper plate and the gear oil looked at.",
)
CAUTIONS = (
    "A study aid; it approves nothing. Makers' instructions, the class society and licensed practice go before it.",
    "No better than its inputs, some of which are estimates. What you hear and feel counts more than this card.",
    "Turning parts kill: stop the engine, isolate the battery, lock the shaft before reaching in. Guards stay on.",
    "Do not crank an engine that is locked. Change no idle or speed limit on this card's word alone.",
)
CASES = {"all fire": "all cylinders fire", "one dead": "one cylinder dead"}
_MOST = 3  # reasons of a range
_PLAIN = {TEETH: "gear teeth part and hammer", UNHELD: "the engine cannot hold them"}


def helm_card(line: Line, avoid: Sequence[SpeedsToAvoid], idles: Sequence[QuietIdle]) -> str:
    """One page of HTML without scripts or links, A4. avoid, idles: of speeds_to_avoid and quiet_idle, for this line."""
    from jinja2 import Environment, FileSystemLoader, StrictUndefined

    folder = Path(__file__).parent
    made = Environment(loader=FileSystemLoader(folder), autoescape=True, undefined=StrictUndefined, trim_blocks=True)
    document = json.dumps(line.document, sort_keys=True)
    return made.get_template("card.html").render(
        title=line.title,
        avoid={words: [_row(one) for one in avoid if one.cylinders == case] for case, words in CASES.items()},
        in_gear=any(one.gear != "neutral" for one in idles),
        idles=_idle_rows(idles),
        to_do=TO_DO,
        cautions=CAUTIONS,
        version=_core.__version__,
        values=hashlib.sha256(document.encode()).hexdigest()[:12],
        made=datetime.now(UTC).strftime("%Y-%m-%d"),
    )


def _row(one: SpeedsToAvoid) -> tuple[str, str]:
    """A range, and its first reasons: the helm needs no list of limits."""
    reasons = [_PLAIN.get(reason, reason) for reason in one.reasons]
    more = [f"{len(reasons) - _MOST} more"] if len(reasons) > _MOST else []
    return f"{number(one.low)} to {number(one.high)} rpm", "; ".join([*reasons[:_MOST], *more])


def _idle_rows(idles: Sequence[QuietIdle]) -> list[tuple[str, str, str, str]]:
    """Gear, cylinders, speed and remark; of several dead cylinders the one that needs the highest speed."""
    rows = []
    for gear in dict.fromkeys(one.gear for one in idles):
        for case, words in CASES.items():
            own = [one for one in idles if one.gear == gear and (one.misfiring == "none") == (case == "all fire")]
            if own:
                worst = max(own, key=lambda one: math.inf if math.isnan(one.rpm) else one.rpm)
                rows.append((gear, words, *_idle_words(worst)))
    return rows


def _idle_words(one: QuietIdle) -> tuple[str, str]:
    if "no teeth there" in one.words:
        return "-", "not judged"
    loaded = "" if math.isnan(one.loaded_rpm) else f"loaded teeth together at {number(one.loaded_rpm)} rpm"
    if math.isnan(one.rpm):
        return "none", loaded or "more idle speed is not a remedy"
    remark = {True: "", False: "above the shift speed: not a remedy", None: "shift speed not given: not judged"}
    return f"{number(one.rpm)} rpm", remark[one.remedy]
