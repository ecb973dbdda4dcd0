"""Runs the document of `calmshaft check LINE --json` (file or standard input) with SciPy: python/docs/resolved.md."""

import json
import sys

import numpy as np
from scipy.integrate import solve_ivp
from scipy.interpolate import CubicSpline

line = json.load(open(sys.argv[1]) if len(sys.argv) > 1 else sys.stdin)
stations, couplings, crank, rub = line["stations"], line["couplings"], line["crank"], line["engine_friction"]
count, cycle, mean_speed = len(stations), line["cycle_angle"], line["mean_speed"]
ratios = [one["speed_ratio"] for one in stations]
columns = np.array([crank["inertia"], crank["inertia_slope"], crank["gas_torque"]]).T
at_crank = CubicSpline([*crank["angle"], cycle], [*columns, columns[0]], bc_type="periodic")


def contact(depth, rate, stiffness, factor):
    return stiffness * depth * max(0.0, 1.0 + factor * rate) if depth > 0 else 0.0


def torque_of(one, twist, rate, z):
    if one["kind"] == "spring":
        return one["stiffness"] * twist + one["damping"] * rate
    if one["kind"] != "staged damper":
        law, gap = (one["stiffness"], one["damping_factor"]), one["half_backlash"]
        return contact(twist - gap, rate, *law) - contact(-twist - gap, -rate, *law)
    springs = sum(r["side"] * r["slope"] * max(0.0, r["side"] * twist - r["corner"]) for r in one["ramps"])
    held, law = one["presliding_angle"], (one["stop_stiffness"], one["stop_damping_factor"])
    friction = one["friction_torque"] * min(held, max(-held, z)) / held if one["friction_torque"] else 0.0
    drive = contact(twist - one["drive_stop"], rate, *law) if one["drive_stop"] is not None else 0.0
    coast = contact(-twist - one["coast_stop"], -rate, *law) if one["coast_stop"] is not None else 0.0
    return springs + one["damping"] * rate + friction + drive - coast


def in_coupling(one, index, state):  # state: q (crank: 0) and speed by station, z by coupling, time
    ratio, (a, b) = one.get("ratio", 1.0), (one["from"], one["to"])
    twist, rate = state[a] - ratio * state[b], state[count + a] - ratio * state[count + b]
    z, held = state[2 * count + index], one.get("presliding_angle", 0.0)
    return torque_of(one, twist, rate, z), 0.0 if abs(z) >= held and z * rate >= 0 else rate


def derivative(angle, state):
    state = state.tolist()
    speed, (inertia, slope, gas) = state[count : 2 * count], at_crank(angle).tolist()
    crank_speed, total, creep = speed[0], [0.0] * count, []
    way = [min(1.0, max(-1.0, w)) for w in speed]
    losses = rub["constant"] + rub["per_speed"] * abs(crank_speed) + rub["per_speed_squared"] * crank_speed**2
    total[0] = gas - way[0] * losses - 0.5 * slope * crank_speed**2
    for index, one in enumerate(couplings):
        torque, dz = in_coupling(one, index, state)
        total[one["from"]] -= torque
        total[one["to"]] += one.get("ratio", 1.0) * torque
        creep.append(dz)
    for load in line["loads"]:
        at, w, mean = load["station"], speed[load["station"]], ratios[load["station"]] * mean_speed
        if load["kind"] == "drag":
            total[at] -= load["torque"] * way[at]
        else:
            total[at] -= load["coefficient"] * (w * abs(w) + load["extra_damping"] * abs(mean) * (w - mean))
    turning = [w - r * crank_speed for w, r in zip(speed, ratios, strict=True)]
    slowing = [t / (one["inertia"] + (inertia if i == 0 else 0.0)) for i, (t, one) in enumerate(zip(total, stations))]
    return np.array([*turning, *slowing, *creep, 1.0]) / crank_speed


def measured(run):
    torque = np.array([in_coupling(couplings[line["watched"]], line["watched"], s)[0] for s in run.y.T[:-1].tolist()])
    orders = np.fft.rfft(torque)
    orders[0], orders[1 + round(12 * cycle / (2 * np.pi)) :] = 0.0, 0.0
    return np.ptp(torque), torque.mean(), np.ptp(np.fft.irfft(orders, torque.size)) / 2


state = np.array([*line["start"]["angle"], *line["start"]["speed"], *line["start"]["slider_twist"], 0.0])
grid, found, repeats = np.linspace(0.0, cycle, 2881), [], False
while len(found) < 40 and not repeats:
    run = solve_ivp(derivative, (0.0, cycle), state, "DOP853", grid, rtol=1e-6, atol=1e-8)
    found.append(measured(run))
    state = run.y[:, -1]
    wrong = mean_speed - cycle / state[-1]
    state[count : 2 * count] += np.multiply(ratios, wrong if len(found) <= 6 else wrong / 4)
    state[-1] = 0.0
    repeats = len(found) > 6 and np.ptp([ripple for ripple, *_ in found[-4:]]) < 1e-3 * found[-1][0]
kept = np.array(found[-1:] if repeats else found[8:])
print(f"{len(found)} cycles, {'repeats' if repeats else 'does not repeat: means over the last ' + str(len(kept))}")
for name, values in zip(("ripple", "mean torque", "vibratory torque"), kept.T, strict=True):
    print(f"{name} {values.mean():.6g} N m, standard error {values.std() / len(values) ** 0.5:.3g} N m")
