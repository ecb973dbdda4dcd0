"""Invented data for the oracle's tests: a four-cylinder harbour launch, three plates, as plain SI dicts."""

import math

DEGREE = math.pi / 180
RPM = math.pi / 30


def plate(stages: list[tuple[float, float]], play: float, hysteresis: float, stop: float) -> dict:
    """Plate with stages of (N m/deg, until deg), play [deg], full hysteresis [N m], stop [deg]."""
    side = {
        "stages": [{"stiffness": k / DEGREE, "until": end * DEGREE} for k, end in stages],
        "stop_angle": stop * DEGREE,
    }
    return {
        "rigid": False,
        "hub_inertia": 0.004,
        "free_play": play * DEGREE,
        "hysteresis_full_width": hysteresis,
        "presliding_angle": 0.1 * DEGREE,
        "viscous_damping": 0.5,
        "stop_stiffness": 100 * stages[-1][0] / DEGREE,
        "stop_restitution": 0.8,
        "drive": side,
        "coast": side,
    }


PLATES = {
    "A": plate([(45, 8)], 1.0, 10, 8),
    "B": plate([(9, 4), (16, 16)], 1.0, 6, 16),
    "C": plate([(4, 6), (16, 18)], 0.6, 5, 18),
}


def contact(stiffness: float) -> dict:
    """Tooth contact with a quarter degree of backlash."""
    return {"backlash": 0.25 * DEGREE, "stiffness": stiffness, "restitution": 0.8, "restitution_speed": 0.5}


def engine() -> dict:
    """The 2.6 litre diesel; combustion and friction by the usual estimates."""
    return {
        "strokes": 4,
        "fuel": "diesel",
        "firing_angles": [turn * math.pi for turn in (0, 3, 1, 2)],  # firing order 1-3-4-2
        "bore": 0.092,
        "stroke": 0.098,
        "rod_length": 0.160,
        "compression_ratio": 18.5,
        "piston_mass": 0.95,
        "rod_mass": 1.1,
        "rod_centre_from_big_end": 0.052,
        "rod_inertia": 1.1 * 0.052 * (0.160 - 0.052) / 1.10,
        "crank_inertia": 0.055,
        "rated_torque": 165.0,
        "rated_speed": 2600 * RPM,
        "combustion": {
            "burn_start": -2 * DEGREE,
            "burn_duration": 50 * DEGREE,
            "burn_coefficient": 6.9,
            "burn_exponent": 0.7,
            "polytropic_exponent": 1.35,
            "inlet_pressure": 1.00e5,
            "exhaust_pressure": 1.05e5,
            "inlet_closes": -140 * DEGREE,
            "exhaust_opens": 130 * DEGREE,
        },
        "friction": {
            "constant": 1.05e5,
            "per_speed": 0.48e5 / (1000 * RPM),
            "per_piston_speed_squared": 400.0,
        },
    }


def launch(plate_name: str) -> dict:
    """The whole line with plate A, B or C, or "rigid"."""
    polar = math.pi / 32 * 0.035**4
    dry = 11 * (0.20 * 0.46) ** 2
    loaded = {"ratio": 2.0, "output_inertia": 0.030, "contact": contact(6e5)}
    unloaded = {
        "name": "free pair",
        "turns_in_ahead": True,
        "turns_in_astern": True,
        "turns_in_neutral": True,
        "inertia": 0.0042,
        "drag": 1.3,
        "contact": contact(4000 * 250),
    }
    return {
        "engine": engine(),
        "flywheel_inertia": 0.45,
        "plate": PLATES["A"] | {"rigid": True} if plate_name == "rigid" else PLATES[plate_name],
        "gearbox": {
            "rated_torque": 250.0,
            "input_inertia": 0.020,
            "input_drag": 0.015 * 250,
            "ahead": loaded,
            "astern": loaded,
            "unloaded": [unloaded],
        },
        "shaft": {
            "stiffness": 79e9 * polar / 2.2,
            "inertia": 7850 * polar * 2.2,
            "damping_ratio": 0.01,
            "divisions": 1,
        },
        "propeller": {
            "inertia": dry,
            "water_inertia": dry * 0.35 * (0.33 / 0.46) ** 1.5,
            "absorbs_torque": 165.0,
            "absorbs_speed": 2600 * RPM,
            "tied_up_factor": 1.25,
            "extra_damping": 0.5,
        },
    }


def condition(rpm: float, gear: str = "ahead", dead: int | None = None) -> dict:
    """Steady condition; `dead` is the number of a cylinder without fuel."""
    strengths = [0.0 if number == dead else 1.0 for number in (1, 2, 3, 4)]
    return {
        "speed": rpm * RPM,
        "gear": gear,
        "strengths": strengths,
        "load": "under_way",
        "load_torque": 0.0,
        "fuelling": "governed",
    }
