"""What could stand at a key: examples for messages and for the list of keys, where that of the kind would mislead."""

from __future__ import annotations

import re

from calmshaft import units

# By the key without indices, else by its last name. Sizes as of the parts of a small diesel line; invented.
EXAMPLES = {
    "bank_angle": "90 deg",
    "rod_inertia": "0.0056 kg*m^2",
    "crank_mass": "24 kg",
    "burn_start": "-2 deg",
    "burn_duration": "50 deg",
    "exhaust_pressure": "1.05 bar",
    "inlet_closes": "-140 deg",
    "exhaust_opens": "130 deg",
    "lag": "0.1 s",
    "flywheel.mass": "28 kg",
    "flywheel.outer_diameter": "360 mm",
    "flywheel.discs[].outer_diameter": "360 mm",
    "flywheel.discs[].thickness": "35 mm",
    "flywheel.discs[].bore": "60 mm",
    "flywheel.discs[].holes[].diameter": "11 mm",
    "flywheel.discs[].holes[].circle": "330 mm",
    "flywheel.hang.mass": "28 kg",
    "flywheel.hang.wire_radius": "160 mm",
    "flywheel.hang.wire_length": "2 m",
    "flywheel.hang.time": "42 s",
    "flywheel.hang.table_mass": "3 kg",
    "flywheel.hang.table_inertia": "0.03 kg*m^2",
    "presliding_angle": "0.1 deg",
    "stop_stiffness": "4500 N*m/deg",
    "plate.springs[].wire_diameter": "4 mm",
    "plate.springs[].coil_outer_diameter": "25 mm",
    "plate.springs[].free_length": "50 mm",
    "plate.springs[].pitch_radius": "62 mm",
    "plate.springs[].window_length": "50.5 mm",
    "plate.springs[].coast_window_length": "50.5 mm",
    "plate.springs[].drive_gap": "4 mm",
    "plate.springs[].coast_gap": "3 mm",
    "plate.springs[].preload": "0.6 mm",
    "plate.points[].angle": "4 deg",
    "plate.points[].torque_loading": "60 N*m",
    "plate.points[].torque_unloading": "48 N*m",
    "plate.joint.tightening_torque": "25 N*m",
    "plate.joint.bolt_circle": "330 mm",
    "plate.pockets.sheet_thickness": "3 mm",
    "input_drag": "3.5 N*m",
    "gearbox.clutch.torque": "500 N*m",
    "fill_time": "0.2 s",
    "ramp_time": "0.6 s",
    "shaft.pieces[].length": "1.2 m",
    "shaft.pieces[].diameter": "35 mm",
    "shaft.pieces[].bore": "10 mm",
    "ultimate_strength": "600 MPa",
    "propeller.inertia": "0.09 kg*m^2",
    "water_inertia": "0.02 kg*m^2",
    "absorbs_torque": "150 N*m",
    "absorbs_rpm": "2500 rpm",
    "limits.gearbox_vibratory_torque": "75 N*m",
    "limits.gearbox_mean_and_vibratory_torque": "250 N*m",
    "limits.gearbox_greatest_torque": "400 N*m",
    "limits.application_factor": "1.3",
    "limits.unloaded_pair_alternating_torque": "10 N*m",
    "limits.plate_mean_torque": "180 N*m",
    "limits.plate_alternating_torque": "60 N*m",
    "limits.plate_greatest_torque": "260 N*m",
    "limits.plate_heat": "120 W",
    "limits.shaft_vibratory_torque": "150 N*m",
    "limits.shaft_vibratory_stress": "40 MPa",
    "limits.cyclic_irregularity": "0.03",
    "spline_diameter": "28 mm",
    "pilot_diameter": "352 mm",
    "fit.plate.bolt_circle": "330 mm",
    "fit.line.bolt_circle": "330 mm",
    "fit.plate.depth": "45 mm",
    "fit.line.depth": "50 mm",
    "hub_stand_out": "12 mm",
}


def example_at(path: str, kind: str) -> str:
    """An example for a key of that kind, "600 MPa" for "shaft.ultimate_strength"; else that of the kind."""
    key = re.sub(r"\[\d+\]", "[]", path)
    return EXAMPLES.get(key) or EXAMPLES.get(key.rpartition(".")[2]) or units.kind_named(kind).example


def fitting(advice: str, path: str, kind: str) -> str:
    """Advice about a value of that kind, with the example of its key in place of that of the kind."""
    return advice.replace(f'"{units.kind_named(kind).example}"', f'"{example_at(path, kind)}"')
