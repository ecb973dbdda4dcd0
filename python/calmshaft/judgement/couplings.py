"""Choosing an elastic coupling by the quantities of DIN 740-2: what the drive asks, what its maker allows.

All formulas but that of the heat are written from memory and say so in the Figures they give; numbers of clauses are
not remembered, the topic stands in their place. Not for spring damper plates with free
play, whose motion is not a linear one: take the simulation there.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from calmshaft.judgement.sources import CLOSED_FORM, ENTERED, Figure, Source, positive, require
from calmshaft.judgement.verdicts import Judgement, against

_STANDARD = "DIN 740-2"
SELECTION = Source(_STANDARD, "selection by nominal, maximum and alternating torque")
MAGNIFICATION = Source(_STANDARD, "linear two-mass oscillator")
HEAT = Source(_STANDARD, "definition of relative damping", CLOSED_FORM)


def frequency_factor(frequency: float) -> float:
    """S_f = 1 up to 10 Hz, sqrt(f / 10 Hz) above [-]; frequency [Hz]. DIN 740-2, from memory."""
    require((0 <= frequency < math.inf, "frequency", frequency, "must not be negative", "write it in Hz"))
    return math.sqrt(max(frequency, 10.0) / 10.0)


def resonance_magnifier(relative_damping: float) -> float:
    """V_R = 2 pi / psi [-], the usual approximation; relative damping psi [-]. DIN 740-2, from memory."""
    require(positive("relative_damping", relative_damping, "", "for instance 0.8, from the coupling's sheet"))
    return math.tau / relative_damping


def magnifier(frequency_ratio: float, relative_damping: float) -> float:
    """V = sqrt((1 + (psi / 2 pi)^2) / ((1 - (f / f_e)^2)^2 + (psi / 2 pi)^2)) [-], f / f_e of exciting to natural."""
    require(
        positive("relative_damping", relative_damping, "", "for instance 0.8, from the coupling's sheet"),
        (0 <= frequency_ratio < math.inf, "frequency_ratio", frequency_ratio, "must not be negative", "write f / f_e"),
    )
    squared = (relative_damping / math.tau) ** 2
    return math.sqrt((1 + squared) / ((1 - frequency_ratio**2) ** 2 + squared))


def dissipated_power(frequency: float, relative_damping: float, alternating_torque: float, stiffness: float) -> float:
    """P = pi f psi T^2 / (2 pi C (1 + psi^2 / (4 pi^2))) = f psi T^2 / (2 C (1 + psi^2 / (4 pi^2))) [W].

    frequency [Hz], relative damping psi [-], torque amplitude T [N m], dynamic stiffness C [N m/rad]. Follows from
    psi = energy lost in a cycle over the energy stored at the amplitude of twist.
    """
    require(
        positive("frequency", frequency, "Hz", "the exciting frequency"),
        positive("relative_damping", relative_damping, "", "0.8, from the coupling's sheet"),
        positive("stiffness", stiffness, "N m/rad", "the dynamic stiffness"),
    )
    bracket = 1 + (relative_damping / math.tau) ** 2
    return frequency * relative_damping * alternating_torque**2 / (2 * stiffness * bracket)


@dataclass(frozen=True, slots=True)
class CouplingDuty:
    """What the drive asks of a coupling.

    mean_torque T_N and exciting_torque T_A (amplitude of the main order, at the engine) [N m]; frequency of it at
    the speed in question and natural_frequency [Hz]; engine_inertia and load_inertia [kg m^2], all at the coupling's
    shaft. temperature_factor S_t and start_factor S_z [-] as the coupling's maker gives them.
    """

    mean_torque: float
    exciting_torque: float
    frequency: float
    natural_frequency: float
    engine_inertia: float
    load_inertia: float
    temperature_factor: float = 1.0
    start_factor: float = 1.0

    def __post_init__(self) -> None:
        low = ((self.temperature_factor, "temperature_factor"), (self.start_factor, "start_factor"))
        require(
            (
                0 <= self.mean_torque < math.inf,
                "mean_torque",
                self.mean_torque,
                "must not be negative",
                "write its size",
            ),
            positive("exciting_torque", self.exciting_torque, "N m", "the amplitude of the main order"),
            positive("frequency", self.frequency, "Hz", "the frequency of the main order"),
            positive("natural_frequency", self.natural_frequency, "Hz", "that of calmshaft check"),
            positive("engine_inertia", self.engine_inertia, "kg m^2", "engine and flywheel together"),
            positive("load_inertia", self.load_inertia, "kg m^2", "all behind the coupling, at its shaft"),
            *((1 <= factor < math.inf, name, factor, "is at least 1", "write 1 where none") for factor, name in low),
        )

    @property
    def load_share(self) -> float:
        """M_A = J_L / (J_A + J_L): the part of an engine-side torque that the coupling has to carry [-]."""
        return self.load_inertia / (self.engine_inertia + self.load_inertia)


@dataclass(frozen=True, slots=True)
class CouplingRating:
    """What the coupling's maker states, and in which document.

    nominal_torque T_KN, maximum_torque T_Kmax, alternating_torque T_KW (at 10 Hz) [N m], dynamic stiffness [N m/rad],
    relative_damping psi [-]; heat that it may lose P_KW [W], None where not stated.
    """

    nominal_torque: float
    maximum_torque: float
    alternating_torque: float
    stiffness: float
    relative_damping: float
    document: str
    heat: float | None = None

    def __post_init__(self) -> None:
        names = ("nominal_torque", "maximum_torque", "alternating_torque")
        heat = (
            (positive("heat", self.heat, "W", "what the maker states, or leave it out"),)
            if self.heat is not None
            else ()
        )
        require(
            *(positive(name, getattr(self, name), "N m", "what the maker states") for name in names),
            positive("stiffness", self.stiffness, "N m/rad", "the dynamic stiffness"),
            positive("relative_damping", self.relative_damping, "", "for instance 0.8"),
            *heat,
            (bool(self.document.strip()), "document", '""', "is needed", "name the sheet that the values stand in"),
        )


@dataclass(frozen=True, slots=True)
class CouplingSelection:
    """The figures that the drive asks for, and where each stands against the coupling's rating."""

    figures: tuple[Figure, ...]
    judgements: tuple[Judgement, ...]


def select_coupling(duty: CouplingDuty, rating: CouplingRating) -> CouplingSelection:
    """Nominal, alternating and passing torque and the heat of one coupling at one speed.

    Each figure carries document, clause and whether its text was checked or is from memory.
    """
    asked = _figures(duty, rating)
    limits = (
        ("nominal torque", rating.nominal_torque),
        ("alternating torque", rating.alternating_torque),
        ("torque while passing resonance", rating.maximum_torque),
        ("dissipated heat", rating.heat),
    )
    judged = tuple(_judged(asked[name], limit, rating.document) for name, limit in limits)
    return CouplingSelection(tuple(asked.values()), judged)


def _figures(duty: CouplingDuty, rating: CouplingRating) -> dict[str, Figure]:
    psi, hot = rating.relative_damping, duty.temperature_factor
    gain = magnifier(duty.frequency / duty.natural_frequency, psi)
    top, share, quick = resonance_magnifier(psi), duty.load_share, frequency_factor(duty.frequency)
    swing = duty.exciting_torque * share * gain
    peak = duty.exciting_torque * share * top
    passing = (duty.mean_torque + peak) * duty.start_factor * hot
    lost = dissipated_power(duty.frequency, psi, swing, rating.stiffness)
    made = (
        Figure("frequency factor", quick, "", "S_f = sqrt(f / 10 Hz), at least 1", SELECTION),
        Figure("magnifier", gain, "", "V by f / f_e and psi", MAGNIFICATION),
        Figure("resonance magnifier", top, "", "V_R = 2 pi / psi", MAGNIFICATION),
        Figure("load share", share, "", "M_A = J_L / (J_A + J_L)", MAGNIFICATION),
        Figure("nominal torque", duty.mean_torque * hot, "N m", "T_N S_t", SELECTION),
        Figure("alternating torque", swing * hot * quick, "N m", "T_A M_A V S_t S_f", SELECTION),
        Figure("torque while passing resonance", passing, "N m", "(T_N + T_A M_A V_R) S_z S_t", SELECTION),
        Figure("dissipated heat", lost, "W", "f psi T_W^2 / (2 C (1 + psi^2 / (4 pi^2)))", HEAT),
    )
    return {figure.name: figure for figure in made}


def _judged(asked: Figure, limit: float | None, document: str) -> Judgement:
    subject = f"{asked.name} of the coupling"
    if limit is None:
        return Judgement(subject, "not judged", "its maker states no limit", asked.value, math.nan, asked.unit)
    finding = f"{asked.value:.4g} {asked.unit} of {limit:.4g} {asked.unit} ({document}); formula: {asked.source}"
    stated = str(Source(document, text=ENTERED))
    return Judgement(subject, against(asked.value, limit), finding, asked.value, limit, asked.unit, document=stated)
