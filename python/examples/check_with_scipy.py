"""Runs the document of `calmshaft check LINE --json` (a file or standard input) with SciPy: see docs/resolved.md."""

import json
import math
import sys
from pathlib import Path

import numpy as np
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline

line = json.loads(Path(sys.argv[1]).read_text() if len(sys.argv) > 1 else sys.stdin.read())
crank, rub, cycle, n = line["crank"], line["engine_friction"], line["cycle_angle"], len(line["stations"])
inertias, ratios = zip(*((one["inertia"], one["speed_ratio"]) for one in line["stations"]), strict=True)
table = np.array([crank["inertia"], crank["inertia_slope"], crank["gas_torque"]]).T
at_angle = CubicSpline([*crank["angle"], cycle], [*table, table[0]], bc_type="periodic")
slow = lambda w: min(1.0, max(-1.0, w))  # noqa: E731 - d(w) of the page


def gap(twist, rate, drive, coast, stiffness, factor):  # contacts at both ends; None: no stop
    pushed = 0.0 if drive is None else max(0.0, twist - drive) * max(0.0, 1.0 + factor * rate)
    return stiffness * (pushed - (0.0 if coast is None else max(0.0, -twist - coast) * max(0.0, 1.0 - factor * rate)))


def coupling(c, z, state):  # torque, and how fast z creeps on
    twist, rate = (state[i + c["from"]] - c.get("ratio", 1.0) * state[i + c["to"]] for i in (0, n))
    if c["kind"] == "spring":
        return c["stiffness"] * twist + c["damping"] * rate, 0.0
    if c["kind"] != "staged damper":
        return gap(twist, rate, c["half_backlash"], c["half_backlash"], c["stiffness"], c["damping_factor"]), 0.0
    torque = sum(r["side"] * r["slope"] * max(0.0, r["side"] * twist - r["corner"]) for r in c["ramps"])
    torque += c["damping"] * rate + c["friction_torque"] * slow(z / c["presliding_angle"])
    torque += gap(twist, rate, c["drive_stop"], c["coast_stop"], c["stop_stiffness"], c["stop_damping_factor"])
    return torque, 0.0 if abs(z) >= c["presliding_angle"] and z * rate > 0 else rate


def over_angle(angle, state):  # state: q (0 for the crank) and speed by station, z by coupling, time
    state, (inertia, slope, gas), creep, total = state.tolist(), at_angle(angle).tolist(), [], [0.0] * n
    speed, w0 = state[n : 2 * n], state[n]
    rubbed = rub["constant"] + abs(w0) * (rub["per_speed"] + abs(w0) * rub["per_speed_squared"])
    total[0] = gas - slow(w0) * rubbed - 0.5 * slope * w0**2
    for c, z in zip(line["couplings"], state[2 * n :], strict=False):
        torque, dz = coupling(c, z, state)
        total[c["from"]] -= torque
        total[c["to"]] += c.get("ratio", 1.0) * torque
        creep.append(dz)
    for load in line["loads"]:
        w, mean = speed[load["station"]], ratios[load["station"]] * line["mean_speed"]
        square = load.get("coefficient", 0.0) * (w * abs(w) + load.get("extra_damping", 0.0) * abs(mean) * (w - mean))
        total[load["station"]] -= square + load.get("torque", 0.0) * slow(w)
    total = [t / (j if i else j + inertia) for i, (t, j) in enumerate(zip(total, inertias, strict=True))]
    return np.array([*(w - r * w0 for w, r in zip(speed, ratios, strict=True)), *total, *creep, 1.0]) / w0


def measured(states):  # ripple, mean and vibratory torque of one cycle
    at = line["watched"]
    torque = np.array([coupling(line["couplings"][at], s[2 * n + at], s)[0] for s in states.tolist()])
    waves = np.fft.rfft(torque)
    waves[0] = waves[1 + round(12 * cycle / math.tau) :] = 0.0
    return np.ptp(torque), torque.mean(), np.ptp(np.fft.irfft(waves, torque.size)) / 2


state, found, repeats = np.concatenate([*line["start"].values(), [0.0]]), [], False
while len(found) < 32 and not repeats:
    run = solve_ivp(over_angle, (0, cycle), state, "RK45", np.linspace(0, cycle, 20161), rtol=1e-7, atol=1e-9)
    found.append(measured(run.y.T[:-1]))
    state, wrong = np.append(run.y[:-1, -1], 0.0), line["mean_speed"] - cycle / run.y[-1, -1]
    state[n : 2 * n] += np.multiply(ratios, wrong if len(found) <= 6 else wrong / 4)
    repeats = len(found) > 8 and np.ptp([ripple for ripple, *_ in found[-8:]]) < 1e-3 * found[-1][0]
kept = np.array(found[-1:] if repeats else found[8:])
print(f"{len(found)} cycles;", "repeats" if repeats else f"does not repeat, means over the last {len(kept)}")
for name, values in zip(("ripple", "mean torque", "vibratory torque"), kept.T, strict=True):
    print(f"{name} {values.mean():.6g} N m, standard error {values.std() / len(values) ** 0.5:.2g} N m")
