"""What makers and rules allow."""

from __future__ import annotations

from calmshaft.schema_fields import AngleLimit, PowerLimit, PureLimit, StressLimit, TorqueLimit
from calmshaft.sections.section import Section


class Limits(Section):
    """What makers and rules allow, each value with its document; what is left out is not judged."""

    gearbox_vibratory_torque: TorqueLimit = None
    gearbox_mean_and_vibratory_torque: TorqueLimit = None
    gearbox_greatest_torque: TorqueLimit = None
    application_factor: PureLimit = None
    unloaded_pair_alternating_torque: TorqueLimit = None
    plate_mean_torque: TorqueLimit = None
    plate_alternating_torque: TorqueLimit = None
    plate_greatest_torque: TorqueLimit = None
    plate_twist: AngleLimit = None
    plate_heat: PowerLimit = None
    shaft_vibratory_torque: TorqueLimit = None
    shaft_vibratory_stress: StressLimit = None
    cyclic_irregularity: PureLimit = None
