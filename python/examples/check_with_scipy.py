"""Runs the document of `calmshaft check LINE --json` with SciPy: see docs/resolved.md."""

import json
import math
import sys
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline

USAGE = """Usage: python check_with_scipy.py line.json, or < line.json
The document comes from `calmshaft check LINE --rpm 800 --json > line.json`."""
if len(sys.argv) > 2 or (len(sys.argv) < 2 and sys.stdin.isatty()):
    sys.exit(USAGE)
try:
    line = json.loads(Path(sys.argv[1]).read_text(encoding="utf-8") if sys.argv[1:] else sys.stdin.read())
    stations, couplings = line["stations"], line["couplings"]
except (OSError, ValueError, KeyError, TypeError) as error:
    sys.exit(f"This is no document of a line: {error}\n{USAGE}")
crank, rub, cycle, count = line["crank"], line["engine_friction"], line["cycle_angle"], len(stations)
inertias, ratios = zip(*((one["inertia"], one["speed_ratio"]) for one in stations), strict=True)
table = np.array([crank["inertia"], crank["inertia_slope"], crank["gas_torque"]]).T
at_angle = CubicSpline([*crank["angle"], cycle], [*table, table[0]], bc_type="periodic")


def limited(x):
    return min(1.0, max(-1.0, x))


def gap(twist, rate, drive, coast, stiffness, factor):  # a contact at each end; None: no stop there
    drive, coast = (math.inf if end is None else end for end in (drive, coast))
    pushed = stiffness * max(0.0, twist - drive) * max(0.0, 1.0 + factor * rate)
    return pushed - stiffness * max(0.0, -twist - coast) * max(0.0, 1.0 - factor * rate)


def coupling(c, z, state):  # torque, and how fast z creeps on
    twist, rate = (state[i + c["from"]] - c.get("ratio", 1.0) * state[i + c["to"]] for i in (0, count))
    if c["kind"] == "spring":
        return c["stiffness"] * twist + c["damping"] * rate, 0.0
    if c["kind"] != "staged damper":
        return gap(twist, rate, c["half_backlash"], c["half_backlash"], c["stiffness"], c["damping_factor"]), 0.0
    held = c["presliding_angle"]
    torque = sum(r["side"] * r["slope"] * max(0.0, r["side"] * twist - r["corner"]) for r in c["ramps"])
    torque += c["damping"] * rate + (c["friction_torque"] * limited(z / held) if held else 0.0)
    torque += gap(twist, rate, c["drive_stop"], c["coast_stop"], c["stop_stiffness"], c["stop_damping_factor"])
    return torque, 0.0 if abs(z) >= held and z * rate > 0 else rate


def over_angle(angle, state):  # q (0 for the crank) and speed by station, z by coupling, time
    state = state.tolist()
    speed, (inertia, slope, gas), creep = state[count : 2 * count], at_angle(angle).tolist(), []
    w0, size, total = speed[0], abs(speed[0]), [0.0] * count
    rubbed = rub["constant"] + size * (rub["per_speed"] + size * rub["per_speed_squared"])
    total[0] = gas - limited(w0) * rubbed - 0.5 * slope * w0**2
    for c, z in zip(couplings, state[2 * count :], strict=False):
        torque, dz = coupling(c, z, state)
        total[c["from"]] -= torque
        total[c["to"]] += c.get("ratio", 1.0) * torque
        creep.append(dz)
    for load in line["loads"]:
        at, square = load["station"], load["kind"] == "square law"
        w, mean = speed[at], ratios[at] * line["mean_speed"]
        law = w * abs(w) + load["extra_damping"] * abs(mean) * (w - mean) if square else limited(w)
        total[at] -= law * (load["coefficient"] if square else load["torque"])
    turning = [w - r * w0 for w, r in zip(speed, ratios, strict=True)]
    total = [t / (j if i else j + inertia) for i, (t, j) in enumerate(zip(total, inertias, strict=True))]
    return np.array([*turning, *total, *creep, 1.0]) / w0


def measured(states):
    at = line["watched"]
    torque = np.array([coupling(couplings[at], s[2 * count + at], s)[0] for s in states.tolist()])
    waves = np.fft.rfft(torque)
    waves[0] = waves[1 + round(12 * cycle / math.tau) :] = 0.0
    return np.ptp(torque), torque.mean(), np.ptp(np.fft.irfft(waves, torque.size)) / 2


state = np.array([*line["start"]["angle"], *line["start"]["speed"], *line["start"]["slider_twist"], 0.0])
grid, found, repeats = np.linspace(0.0, cycle, 1 + 4 * line["steps_per_cycle"]), [], False
while len(found) < 24 and not repeats:
    run = solve_ivp(over_angle, (0.0, cycle), state, "RK45", grid, rtol=1e-8, atol=1e-10)
    found.append(measured(run.y.T[:-1]))
    state, wrong = np.append(run.y[:-1, -1], 0.0), line["mean_speed"] - cycle / run.y[-1, -1]
    state[count : 2 * count] += np.multiply(ratios, wrong)
    repeats = len(found) > 8 and np.ptp([ripple for ripple, *_ in found[-8:]]) < 1e-3 * found[-1][0]
kept = np.array(found[-1:] if repeats else found[8:])
print(f"{len(found)} cycles;", "repeats" if repeats else f"does not repeat, means over the last {len(kept)}")
for name, values in zip(("ripple", "mean torque", "vibratory torque"), kept.T, strict=True):
    print(f"{name} {values.mean():.6g} N m, standard error {values.std() / len(values) ** 0.5:.2g} N m")
