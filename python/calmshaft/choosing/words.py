"""What to look for in a plate, in the words and units of a workshop."""

from __future__ import annotations

import math
from dataclasses import asdict
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft.choosing.aims import IDLE, NEUTRAL, STOP, WAY
from calmshaft.choosing.plates import CORNER, FIRST, LAST, PLAY, Trait, first_torque
from calmshaft.judgement.entered import ENTERED
from calmshaft.wording import listed, number, percent

if TYPE_CHECKING:
    from calmshaft.choosing.choice import Choice, Range, Window

Rows = list[list[str]]
SHARP = 0.9  # [-] of the plates outside miss a limit; ours
STATED = 1.4  # [-] torque at the stop over the stated one; common practice, no source
SHORT, LONG = math.radians(10), math.radians(15)  # [rad] wind-up at full torque; common practice, no source
_DRAWN = 400  # plates inside, to tell what they have in common
_MISSED = {
    NEUTRAL: "rattle in neutral",
    IDLE: "teeth part ahead at idle",
    WAY: "teeth part under way",
    STOP: "the stop is met",
}
# Common practice, no source: how plates differ that a calculation calls alike.
HINTS = (
    "Heavier springs in larger windows last longer in the same line (common practice, no source).",
    "Springs that sit loose in their windows rattle metallically at idle and stop with a little throttle: play in the "
    "windows is part of the free play above (common practice, no source).",
    "Free play is the hub's on its splines and the springs' together; both grow with wear, so begin well below the "
    "most (common practice, no source).",
    "Whether misfiring is borne, and all other speeds, `calmshaft compare` tells of a plate that was found.",
)


def missed_words(key: str) -> str:
    """A limit that is missed, in few words."""
    return _MISSED.get(key) or (f"{ENTERED[key].subject} over its limit" if key in ENTERED else "a limit")


def shown(trait: Trait, value: float) -> str:
    """A value in the workshop's unit, without it."""
    return number(trait.shown(value))


def unit_of(trait: Trait) -> str:
    """As people read it."""
    return trait.unit.replace("*", " ")


def range_words(one: Range) -> str:
    """ "2.3 to 3.9 N m/deg", "at least 210 N m", "up to 14 N m/deg"; "any" where neither end was found."""
    unit, (low, high) = unit_of(one.trait), one.beyond
    if low and high:
        return f"{shown(one.trait, one.low)} to {shown(one.trait, one.high)} {unit}"
    if low:
        return f"at least {shown(one.trait, one.low)} {unit}"
    return f"up to {shown(one.trait, one.high)} {unit}" if high else f"any, up to {shown(one.trait, one.high)} {unit}"


def window_rows(choice: Choice) -> Rows:
    """Rows under a heading: trait, what to look for, what was looked at, the plate now in the line, past the edges."""
    assert choice.window is not None
    rows = [["what", "look for", "looked at", "in the line now", "beyond the edges"]]
    for place, one in enumerate(choice.window.ranges):
        trait = one.trait
        looked = f"{shown(trait, trait.low)} to {shown(trait, trait.high)}"
        past = [f"{side}: {missed_words(key)}" for side, key in zip(("below", "above"), one.beyond, strict=True) if key]
        rows.append([trait.words, range_words(one), looked, _now(choice, place), "; ".join(past) or "no edge found"])
    return rows


def _now(choice: Choice, place: int) -> str:
    if choice.own is None or math.isnan(choice.own.values[place]):
        return "-"
    assert choice.window is not None
    one, value = choice.window.ranges[place], float(choice.own.values[place])
    return f"{shown(one.trait, value)}, {'within' if one.holds(value) else 'over'}"


def own_words(choice: Choice) -> str:
    """What the plate now in the line does about the limits."""
    if choice.own is None:
        return "A solid drive stands in the plate's place now."
    if not choice.own.missed:
        return "The plate now in the line meets all these limits."
    return f"The plate now in the line misses: {listed([missed_words(key) for key in choice.own.missed])}."


def sure_words(choice: Choice) -> str:
    """How the window was found and how sharp it is."""
    window = choice.window
    assert window is not None
    (drawn, met), (out, down) = window.inside, window.outside
    margin = f" by more than {percent(window.margin)} of the range looked at" if window.margin else ""
    return (
        f"{choice.plates_looked_at:,} plates were looked at in {choice.points:,} steady states. The ranges hold "
        f"together: of the last {drawn} plates drawn inside all of them {met} meet the limits. Of {out} drawn over all "
        f"that was looked at, with at least one value beyond its edge{margin}, {down} miss a limit; {_others(window)} "
        "What is no trait here is the line's own, or estimated: a range is no surer than the line's values."
    )


def _others(window: Window) -> str:
    out, down = window.outside
    if down < SHARP * out:
        return "this line is not choosy, many plates outside suit as well."
    return "the others suit by another mixture."


def class_words(choice: Choice) -> tuple[str, ...]:
    """Stages, wind-up and torque class, of plates drawn inside the window."""
    from calmshaft.choosing.choice import box_of

    window = choice.window
    assert window is not None
    box = box_of(choice.plates, window.ranges)
    values = choice.plates.values(choice.plates.draw(box.low, box.high, _DRAWN, choice.seed))
    wound = full_twist(values, choice.line.quantities["engine.rated_torque"].value)
    low, high = (float(np.degrees(end)) for end in (wound.min(), wound.max()))
    middle = float(np.median(wound))
    travel = "short travel" if middle < SHORT else "medium travel" if middle < LONG else "long travel"
    stated = window["stop_torque"].low / STATED
    rated = choice.line.quantities["engine.rated_torque"].value
    first, last = window["first_stage"], window["last_stage"]
    stages = "two stages, the first one soft"
    if first.high >= last.low:
        both = f"{shown(last.trait, last.low)} to {shown(last.trait, first.high)} {unit_of(last.trait)}"
        stages += f"; one stage of {both} is among them"
    carries = float(np.min(first_torque(values)))
    return (
        f"Spring class: {stages}; {travel}, {number(low)} to {number(high)} deg from the middle at full torque.",
        f"The first stage carries {number(carries)} N m or more before the last one takes over.",
        f"Torque class: stated torque {number(max(stated, rated))} N m or more, where the stop lies at {STATED} times "
        "the stated torque (common practice, no source); ask its maker for the torque at the stop.",
    )


def full_twist(values: np.ndarray, torque: float) -> np.ndarray:
    """Twist from the middle [rad] at a torque [N m], by plate."""
    carried = first_torque(values)
    in_first = 0.5 * values[..., PLAY] + torque / values[..., FIRST]
    return np.where(torque < carried, in_first, values[..., CORNER] + (torque - carried) / values[..., LAST])


def limit_words(choice: Choice) -> tuple[str, ...]:
    """The limits worked to, what is left out, and whether any are entered."""
    entered = () if choice.line.limits else ("no limits are entered in [limits]",)
    return (*(aim.words for aim in choice.aims.all), *choice.aims.left_out, *entered)


def fit_rows(choice: Choice, blank: str = "-") -> Rows:
    """The fit list under a heading. blank: stands where nothing is entered."""
    rows = [["fit", "plate", "line", "judgement", "found", "look for"]]
    return rows + [
        [one.item, one.plate or blank, one.line or blank, one.word, one.finding, one.look] for one in choice.fit
    ]


def as_dict(choice: Choice) -> dict[str, Any]:
    """Plain values, SI; an open end is None."""
    window = choice.window
    return {
        "title": choice.line.title,
        "limits": [
            {"key": aim.key, "words": aim.words, "most": aim.limit,
             "conditions": [asdict(at) for at in aim.conditions]} for aim in choice.aims.all
        ],
        "left_out": list(choice.aims.left_out),
        "window": None if window is None else {
            "ranges": {one.trait.key: _range(one) for one in window.ranges},
            "inside": {"plates": window.inside[0], "meet_all": window.inside[1]},
            "outside": {"margin_of_range": window.margin, "plates": window.outside[0], "miss_one": window.outside[1]},
            "words": list(class_words(choice)),
        },
        "unmet": None if choice.unmet is None else asdict(choice.unmet),
        "plate_now": None if choice.own is None else {
            "values": dict(zip((one.key for one in choice.plates.traits), choice.own.values.tolist(), strict=True)),
            "misses": list(choice.own.missed),
        },
        "fit": [asdict(one) for one in choice.fit],
        "plates_looked_at": choice.plates_looked_at,
        "points": choice.points,
        "seed": choice.seed,
    }  # fmt: skip


def _range(one: Range) -> dict[str, Any]:
    low, high = one.beyond
    return {
        "low": one.low if low else None,
        "high": one.high if high else None,
        "looked_at": [one.trait.low, one.trait.high],
        "kind": one.trait.kind,
        "beyond": {"below": missed_words(low) if low else None, "above": missed_words(high) if high else None},
        "words": range_words(one),
    }
