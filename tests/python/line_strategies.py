"""Random lines that a workshop could have in front of it, as documents with units, and random conditions of them.

Everything is drawn from one random.Random: `Random(seed)` gives the same line each time, and
`hypothesis.strategies.randoms(use_true_random=False)` lets hypothesis draw and shrink. Sizes follow from the rated
torque, so that parts fit each other; ranges are common practice, no source, and wider than the estimates' own.
"""

import math
from dataclasses import dataclass
from random import Random

import calmshaft as cs

DEGREE = math.pi / 180
UNKNOWN = "unknown"
MATERIALS = ("steel", "stainless", "nickel-copper", "aluminium bronze")


def with_unit(value, unit):
    return f"{value:.9g} {unit}"


@dataclass
class Draw:
    """The draws that a random line is made of."""

    random: Random

    def between(self, low, high):
        return self.random.uniform(low, high)

    def scaled(self, value, factor):
        """About a value, from value / factor to value x factor."""
        return value * factor ** self.random.uniform(-1, 1)

    def chance(self, share):
        return self.random.random() < share

    def choice(self, options):
        return self.random.choice(options)

    def or_unknown(self, text, share=0.5):
        """Half of the time the builder does not know."""
        return text if self.chance(share) else UNKNOWN


def random_document(random):
    """A valid line document, everything for all three gears in it."""
    draw = Draw(random)
    engine, torque = _engine(draw)
    box = _gearbox(draw, torque)
    return {
        "title": "random line",
        "engine": engine,
        "flywheel": {"inertia": with_unit(draw.scaled(0.0027 * torque, 2), "kg*m^2")},
        "plate": _plate(draw, torque),
        "gearbox": box,
        "shaft": _shaft(draw, torque * box["ahead"]["ratio"]),
        "propeller": _propeller(draw, torque * box["ahead"]["ratio"], engine["rated_rpm"]),
    }


def _engine(draw):
    """The section, and its rated torque [N m] by mean effective pressure: T = p V / (pi strokes)."""
    strokes, cylinders = draw.choice([4, 4, 4, 2]), draw.random.randint(1, 8)
    fuel = draw.choice(["diesel", "petrol"])
    bore = draw.between(70, 115)
    stroke = bore * draw.between(0.85, 1.25)
    swept = cylinders * math.pi / 4 * bore**2 * stroke * 1e-9
    torque = draw.between(6, 11) * (1e5 if strokes == 4 else 0.7e5) * swept / (math.pi * strokes)
    rated = draw.between(1800, 3600) if fuel == "diesel" else draw.between(2500, 4500)
    engine = {
        "strokes": strokes,
        "fuel": fuel,
        "cylinders": cylinders,
        "bore": with_unit(bore, "mm"),
        "stroke": with_unit(stroke, "mm"),
        "compression_ratio": draw.between(15, 22) if fuel == "diesel" else draw.between(7.5, 11),
        "rod_length": draw.or_unknown(with_unit(stroke * draw.between(1.5, 1.9), "mm")),
        "idle_rpm": draw.between(550, 1000),
        "rated_rpm": rated,
        "rated_torque": with_unit(torque, "N*m"),
    }
    engine |= _firing(draw, strokes, cylinders)
    return engine, torque


def _firing(draw, strokes, cylinders):
    """Even intervals in some order, a vee, or angles as they come."""
    numbers = list(range(2, cylinders + 1))
    draw.random.shuffle(numbers)
    kind = draw.choice(["usual", "order", "vee", "angles"])
    if kind == "order":
        return {"firing_order": [1, *numbers]}
    if kind == "vee" and cylinders % 2 == 0:
        return {"layout": "vee", "bank_angle": draw.choice(["60 deg", "90 deg"]), "firing_order": [1, *numbers]}
    if kind == "angles":
        return {"firing_angles": ["0 deg", *(with_unit(draw.between(0, 180 * strokes - 1), "deg") for _ in numbers)]}
    return {}


def _plate(draw, torque):
    """One to three stages, each stiffer than the one within; rated torque is reached within 2 to 25 degrees."""
    if draw.chance(0.1):
        return {"kind": "rigid", "hub_inertia": UNKNOWN}
    play = draw.choice([0.0, draw.between(0, 1), draw.between(0, 4)])
    differ = draw.chance(0.3)
    drive = _stages(draw, torque, play / 2)
    coast = _stages(draw, torque * draw.between(0.4, 1), play / 2) if differ else drive
    plate = {
        "free_play": with_unit(play, "deg"),
        "hysteresis_full_width": with_unit(torque * draw.choice([0.0, draw.between(0.01, 0.12)]), "N*m"),
        "viscous_damping": draw.or_unknown(with_unit(torque * draw.between(0.001, 0.006), "N*m*s/rad")),
        "presliding_angle": draw.or_unknown(with_unit(draw.between(0.05, 0.3), "deg")),
        "stages": [s | {"side": "drive"} for s in drive] + [s | {"side": "coast"} for s in coast] if differ else drive,
    }
    if draw.chance(0.8):
        plate["stop_angle"] = _stop(draw, drive)
        plate["stop_restitution"] = draw.between(0.5, 0.9)
        if differ:
            plate["coast_stop_angle"] = _stop(draw, coast)
    return plate


def _stages(draw, torque, corner):
    """The last stage ends where the stages together carry 1.1 to 2 times the torque."""
    count = draw.random.randint(1, 3)
    travel, capacity = draw.between(2, 25), torque * draw.between(1.1, 2.0)
    widths = [draw.between(0.3, 1) for _ in range(count)]
    weights = [draw.between(1, 4) ** index for index in range(count)]
    scale = capacity / sum(width * weight for width, weight in zip(widths, weights, strict=True))
    stages = []
    for width, weight in zip(widths, weights, strict=True):
        corner += travel * width / sum(widths)
        slope = scale * weight / travel * sum(widths)
        stages.append({"stiffness": with_unit(slope, "N*m/deg"), "until": with_unit(corner, "deg")})
    return stages


def _stop(draw, stages):
    """At the end of the last stage, or some way into it: such a plate runs on its stop."""
    corners = [float(stage["until"].split()[0]) for stage in stages]
    inner = corners[-2] if len(corners) > 1 else 0.6 * corners[-1]
    share = 1.0 if draw.chance(0.7) else draw.between(0.3, 1)
    return with_unit(inner + share * (corners[-1] - inner), "deg")


def _teeth(draw, rated):
    return {
        "backlash": draw.or_unknown(with_unit(draw.between(0.05, 0.6), "deg"), 0.7),
        "mesh_stiffness": draw.or_unknown(with_unit(draw.scaled(4000, 1.6) * rated, "N*m/rad")),
        "restitution": draw.between(0.6, 0.9),
    }


def _gearbox(draw, torque):
    rated = torque * draw.between(1, 2)
    inertia = draw.scaled(0.025 * (rated / 200) ** 1.5, 2.5)

    def pair():
        ratio = draw.between(1, 4)
        output = draw.or_unknown(with_unit(draw.scaled(0.08 * inertia * ratio**3 + 0.002, 2), "kg*m^2"))
        return {"ratio": ratio, "output_inertia": output, **_teeth(draw, rated)}

    def unloaded():
        gears = [gear for gear in ("ahead", "astern", "neutral") if draw.chance(0.7)]
        return {
            "turns_in": gears or ["neutral"],
            "inertia": with_unit(inertia * draw.between(0.04, 0.5), "kg*m^2"),
            "drag": with_unit(rated * draw.scaled(0.005, 3), "N*m"),
            **_teeth(draw, rated),
        }

    return {
        "rated_torque": with_unit(rated, "N*m"),
        "input_inertia": with_unit(inertia, "kg*m^2"),
        "input_drag": draw.or_unknown(with_unit(rated * draw.scaled(0.015, 2), "N*m")),
        "ahead": pair(),
        "astern": pair(),
        "unloaded": [unloaded() for _ in range(draw.random.randint(0, 3))],
    }


def _shaft(draw, torque):
    """Diameter by shear stress: d^3 = 16 T / (pi tau)."""
    diameter = (16 * torque / (math.pi * draw.between(25e6, 60e6))) ** (1 / 3)
    return {
        "diameter": with_unit(1000 * diameter, "mm"),
        "length": with_unit(draw.between(0.6, 4), "m"),
        "material": draw.choice(MATERIALS),
        "divisions": draw.random.randint(1, 4),
    }


def _propeller(draw, torque, rated_rpm):
    """Diameter by torque: 330 N m turn 0.46 m in the sample launch, and torque goes with the cube."""
    diameter = draw.scaled(0.46 * (torque / 330) ** (1 / 3), 1.15)
    return {
        "diameter": with_unit(diameter, "m"),
        "pitch": with_unit(diameter * draw.between(0.6, 1.1), "m"),
        "blades": draw.choice([3, 4, 5]),
        "full_throttle_rpm": rated_rpm * draw.between(0.85, 1.1),
        "extra_damping": draw.or_unknown(draw.between(0, 1.8)),
    }


def random_condition(random, line):
    """From below idle to rated speed, in any gear, often with a weak or dead cylinder."""
    draw = Draw(random)
    engine = line.document["engine"]
    cylinders = engine["cylinders"]
    idle, rated = engine["idle_rpm"], engine["rated_rpm"]
    rated_torque = float(engine["rated_torque"].split()[0])
    loads = ["under way", "under way", "tied up", "none", with_unit(rated_torque * draw.between(0, 0.9), "N*m")]
    return cs.Condition(
        rpm=draw.choice([draw.between(0.9 * idle, 1.3 * idle), draw.between(idle, rated)]),
        gear=draw.choice(["ahead", "ahead", "ahead", "astern", "neutral"]),
        misfiring=_misfiring(draw, cylinders),
        load=draw.choice(loads),
        fuelling=draw.choice(["governed", "governed", "governed", "fixed"]),
    )


def _misfiring(draw, cylinders):
    """One cylinder at least fires fully, but a lone one is only weak."""
    if draw.chance(0.4):
        return "none"
    if cylinders == 1:
        return {1: draw.between(0.6, 1)}
    weak = draw.random.sample(range(1, cylinders + 1), draw.choice([1, 1, 1, 2]) if cylinders > 3 else 1)
    return {cylinder: draw.choice([0.0, draw.between(0, 1)]) for cylinder in weak}


def random_line(random):
    return cs.line_from_document(random_document(random), "random line")


def random_case(seed):
    """(line, condition) of one number."""
    random = Random(seed)
    line = random_line(random)
    return line, random_condition(random, line)
