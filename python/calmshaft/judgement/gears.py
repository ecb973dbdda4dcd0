"""What rules ask of the torque in gear teeth. Limits are entered by the user with their document; none is built in.

Class rules differ in their form more than in their aim, so a limit has one of the forms of MESH_FORMS. The gear
hammer criterion needs no document: teeth part where the vibratory torque exceeds the mean.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from calmshaft.judgement.sources import CLOSED_FORM, ENTERED, Source, positive, require
from calmshaft.judgement.verdicts import Judgement, against

HAMMER = Source("common to all class rules", "vibratory torque beyond the mean parts the teeth", CLOSED_FORM)

# Each form: what stands against factor x reference torque, and the factor with the place that it is remembered from.
# All of it is from memory and none of it is used: it helps to find the place in the current text.
MESH_FORMS: Mapping[str, str] = MappingProxyType(
    {
        "mean and vibratory": "remembered: 4/3 of full transmission torque, Lloyd's rules for ships, Part 5",
        "vibratory": "remembered: 0.3 of nominal torque at 0.9 to 1.05 of rated speed, Germanischer Lloyd, section 16",
        "vibratory, passing resonance": "remembered: 2 times nominal torque, Germanischer Lloyd, section 16",
        "vibratory, unloaded pair": "remembered: 0.2 of nominal torque, Germanischer Lloyd, section 16",
    }
)


@dataclass(frozen=True, slots=True)
class MeshLimit:
    """A limit that the user enters: form (a key of MESH_FORMS), factor [-] of the reference torque [N m], document.

    lowest and highest [-] of rated speed bound where it holds.
    """

    form: str
    factor: float
    reference_torque: float
    document: str
    lowest: float = 0.0
    highest: float = math.inf

    def __post_init__(self) -> None:
        require(
            (self.form in MESH_FORMS, "form", self.form, "is not a form", f"write {'; '.join(MESH_FORMS)}"),
            positive("factor", self.factor, "", "the factor of the document"),
            positive("reference_torque", self.reference_torque, "N m", "the torque that the document refers to"),
            (bool(self.document.strip()), "document", '""', "is needed", "name document, clause and edition"),
            (0 <= self.lowest <= self.highest, "lowest", self.lowest, "lies from 0 to highest", "write e.g. 0.9"),
        )


def judge_mesh(limit: MeshLimit, mean: float, vibratory: float, speed_ratio: float) -> Judgement:
    """Torque of one mesh against one limit; mean and vibratory (half range) [N m] at the mesh, speed over rated [-]."""
    subject = f"mesh torque, {limit.form}"
    if not limit.lowest <= speed_ratio <= limit.highest:
        why = (
            f"{speed_ratio:.3g} of rated speed lies outside of {limit.lowest:g} to {limit.highest:g} ({limit.document})"
        )
        return Judgement(subject, "not judged", why, matters=False)
    value = abs(mean) + vibratory if limit.form == "mean and vibratory" else vibratory
    allowed = limit.factor * limit.reference_torque
    finding = f"{value:.4g} N m beside {limit.factor:g} x {limit.reference_torque:g} N m ({limit.document})"
    word = against(value, allowed)
    return Judgement(subject, word, finding, value, allowed, "N m", document=str(Source(limit.document, text=ENTERED)))


def judge_hammer(mean: float, vibratory: float) -> Judgement:
    """Whether the vibratory torque reverses a mean [N m]: vibratory > |mean| parts the teeth."""
    finding = f"vibratory torque {vibratory:.4g} N m beside a mean of {abs(mean):.4g} N m"
    word = against(vibratory, abs(mean))
    return Judgement("gear hammer", word, finding, vibratory, abs(mean), "N m", document=str(HAMMER))
