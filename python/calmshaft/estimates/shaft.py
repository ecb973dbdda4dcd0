"""The propeller shaft, where the line has one. Its diameter has no honest rule: it must be known."""

from calmshaft.estimates.rules import Known, Spread, factor, percent, rule

GPA = 1e9  # [Pa]
SHEAR_MODULUS = {
    "steel": 79 * GPA,
    "stainless": 77 * GPA,
    "nickel-copper": 66 * GPA,
    "aluminium bronze": 44 * GPA,
}
DENSITY = {
    "steel": 7850.0,
    "stainless": 7900.0,
    "nickel-copper": 8800.0,
    "aluminium bronze": 7600.0,
}  # [kg/m^3]
SHAFT = ("shaft.diameter",)


def _of_material(values: dict[str, float], known: Known, width: float) -> Spread:
    """The value of the shaft's material; where that is not known, steel, the range of the common metals."""
    material = str(known.get("shaft.material", ""))
    if material in values:
        return percent(values[material], width)
    common = [values["steel"], values["stainless"], values["nickel-copper"]]
    return values["steel"], min(common) * (1 - width / 100), max(common) * (1 + width / 100)


@rule(
    "shaft.shear_modulus",
    "material",
    formula="GPa: steel 79, stainless 77, nickel-copper 66, aluminium bronze 44; else steel",
    spread="3 %; 64 to 81 GPa where the material is unknown",
    measure="Magnet and stamp tell the material.",
    source="value from memory: Marks' Handbook",
    needs=SHAFT,
)
def _shear_modulus(known: Known) -> Spread:
    return _of_material(SHEAR_MODULUS, known, 3)


@rule(
    "shaft.density",
    "material",
    formula="kg/m^3: steel 7850, stainless 7900, nickel-copper 8800, aluminium bronze 7600; else steel",
    spread="2 %; 7690 to 8980 kg/m^3 where the material is unknown",
    measure="Magnet and stamp tell the material.",
    source="value from memory: Marks' Handbook",
    needs=SHAFT,
)
def _density(known: Known) -> Spread:
    return _of_material(DENSITY, known, 2)


@rule(
    "shaft.damping_ratio",
    "one per cent",
    formula="0.01 of critical",
    spread="from half to twice",
    measure="No workshop way; little beside the damping of the propeller.",
    source="value from memory: Ker Wilson",
    needs=SHAFT,
)
def _damping_ratio(known: Known) -> Spread:
    return factor(0.01, 2)
