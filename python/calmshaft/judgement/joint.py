"""The bolted joint of a plate: does it slip, are its bolts pulled too far. Both need no document."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from calmshaft.judgement.verdicts import NEAR, Judgement, against
from calmshaft.wording import number

if TYPE_CHECKING:
    from calmshaft.line import Line
    from calmshaft.workshop.joint import Joint

SLIP_FACTOR = 1.8  # [-] against slip under alternating torque; VDI 2230, value from memory
ABSENT = "the joint is not given: write [plate.joint] with bolts, tightening torque and bolt circle"
SLIP, PULL = "bolt slip", "pull of the bolts"


def joint_in(line: Line) -> Joint | None:
    """The joint of a line's plate; None where it is not given."""
    plate = line.document.get("plate", {})
    if "joint" not in plate:
        return None
    from calmshaft.workshop.joint import joint_of  # the schema takes longer to load than the rest

    return joint_of(plate)


def judge_joint(joint: Joint | None, torque: float, words: str) -> tuple[Judgement, ...]:
    """Slip under a greatest torque [N m] named by `words`, and the bolts' pull; slip alone where there is no joint."""
    if joint is None:
        return (Judgement(SLIP, "not judged", ABSENT, matters=False),)
    return judge_slip(joint, torque, words), judge_pull(joint)


def judge_slip(joint: Joint, torque: float, words: str) -> Judgement:
    """Against the low end of what the faces hold: oily, the weakest pull. A stretched bolt is not counted on."""
    slip = joint.slip
    if not math.isfinite(torque):
        return Judgement(SLIP, "not judged", f"{words} is not known; {held_words(joint)}", matters=False)
    finding = f"{words} {number(torque)} N m; {held_words(joint)}"
    if torque < slip.low and judge_pull(joint).word == "over":
        return Judgement(SLIP, "not judged", f"{finding}, if their pull did not stretch them", torque, slip.low, "N m")
    return Judgement(SLIP, against(torque, slip.low), finding, torque, slip.low, "N m")


def held_words(joint: Joint) -> str:
    """What the joint holds, from its weakest to its strongest."""
    slip = joint.slip
    low, usual, high = (f"{number(torque)} N m" for torque in (slip.low, slip.value, slip.high))
    return f"the bolts hold {low} at least ({usual} usual, {high} at most)"


def judge_pull(joint: Joint) -> Judgement:
    """Against the proof load of the grade; near where the slipperiest threads reach it."""
    pull = joint.pull
    kilo = [number(end / 1e3) for end in (pull.value, pull.low, pull.high)]
    found = f"each pulls {kilo[0]} kN ({kilo[1]} to {kilo[2]})"
    if not joint.grade_known:
        advice = "its grade is not given; it stands on the head of the bolt"
        return Judgement(PULL, "not judged", f"{found}; {advice}", pull.value, matters=False)
    proof = joint.proof
    word = "over" if pull.value >= proof else "near" if max(pull.high, pull.value / NEAR) >= proof else "within"
    finding = f"{found}, proof load of {joint.name} {joint.bolt.grade} {number(proof / 1e3)} kN"
    return Judgement(PULL, word, finding, pull.value, proof, "N")


def factor_words(joint: Joint, stated: float) -> str:
    """How often the joint holds the torque [N m] that a plate is made for, beside what is usual."""
    factor = joint.slip.low / stated
    usual = f"{SLIP_FACTOR:g} times is usual under alternating torque (VDI 2230, value from memory)"
    said = f"The bolts hold at least {factor:.2g} times the {number(stated)} N m that its maker states"
    if factor >= SLIP_FACTOR:
        return f"{said}; {usual}."
    lack = f"{100 * (1 - factor / SLIP_FACTOR):.0f} % less than that"
    return f"{said}, {lack}; {usual}. More or larger bolts, dowels, or the maker's own torque."
