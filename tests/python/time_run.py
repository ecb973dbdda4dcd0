"""One condition by the second engine: integrated in time under step control, measured cycle by cycle in NumPy.

Nothing of the lane engine's marching, metering or measuring is used; only its answer says where to start.
"""

import math
from dataclasses import dataclass

import numpy as np

from calmshaft import _core
from calmshaft.runs import cylinders, prepared

ORDERS = {4: np.arange(1, 25) / 2, 2: np.arange(1, 13)}  # of the vibratory torque, by strokes


@dataclass(frozen=True)
class TimeRun:
    """Values of each kept cycle by name, arrays (cycle,), SI; the fuelling that held the speed; how it ended."""

    cycles: dict
    fuelling: float  # [-] mean over the kept cycles
    crank_speed: float  # [rad/s] at the end
    end: str

    def mean(self, name):
        return float(self.cycles[name].mean())

    def standard_error(self, name, batch=5):
        """Of the mean, from means of five cycles, since neighbours may depend on each other."""
        values = self.cycles[name]
        means = values[: len(values) // batch * batch].reshape(-1, batch).mean(axis=1)
        return float(means.std(ddof=1) / math.sqrt(len(means)))

    def spread(self, name):
        return float(np.ptp(self.cycles[name]))


def start_of(run):
    """What a steady result shows at crank angle 0."""
    signals = run.signals.isel(crank_angle=0)
    return signals.speed.values, signals.twist.values, signals.torque.values


def run_in_time(line, at, fuelling, *, cycles, kept, tolerance=1e-8, held_speed=None, start=None):
    """Time run of the condition. Where the line stalls there are fewer cycles."""
    system = prepared(line), at.core(cylinders(line))
    found = _core.time_history(*system, fuelling, cycles, kept, tolerance, held_speed, start)
    couplings = _core.mass_elastic_system(*system, 1440)["couplings"]
    kinds = [c["kind"] for kind in ("spring", "staged damper", "mesh") for c in couplings if c["kind"].endswith(kind)]
    strokes = line.core.engine.strokes
    spans = _spans(found["crank_angle"], math.pi * strokes)
    by_cycle = [_measures(found, kinds, ORDERS[strokes], *span) for span in spans]
    table = {name: np.array([one[name] for one in by_cycle]) for name in (by_cycle[0] if by_cycle else ())}
    return TimeRun(table, float(found["fuelling"][-kept:].mean()), found["crank_speed"], found["stats"]["end"])


def _spans(angle, turn):
    """(first, last, start, end) of each whole cycle: nodes first to last enclose the angles start to end."""
    if len(angle) < 2:
        return
    for number in range(math.ceil(angle[0] / turn - 0.01), math.floor(angle[-1] / turn)):
        first = max(0, np.searchsorted(angle, number * turn, "right") - 1)
        last = np.searchsorted(angle, (number + 1) * turn)
        yield first, last + 1, number * turn, (number + 1) * turn


def _measures(found, kinds, orders, first, last, start, end):
    angle = found["crank_angle"][first:last]
    torque = [channel[first:last] for channel in found["torque"]]
    twist = [channel[first:last] for channel in found["twist"]]
    values = {}
    if watched_mesh := next((kind for kind in ("loaded mesh", "unloaded mesh") if kind in kinds), None):
        watched = twist[kinds.index(watched_mesh)]
        values |= {"teeth_twist_least": watched.min(), "teeth_twist_greatest": watched.max()}
    for index, kind in enumerate(kinds):
        if kind == "staged damper":
            values["plate_torque_ripple"] = _ripple(angle, torque[index])
            values["plate_twist_range"] = np.ptp(twist[index])
        elif kind == "loaded mesh":
            values["mesh_torque_ripple"] = _ripple(angle, torque[index])
            mean, amplitudes = _fourier(angle, torque[index], orders, start, end)
            values["mesh_torque_mean"] = mean
            values["mesh_torque_vibratory"] = _half_range(amplitudes, orders)
        elif kind == "unloaded mesh":
            ripple = _ripple(angle, torque[index])
            values["unloaded_mesh_torque_ripple"] = max(ripple, values.get("unloaded_mesh_torque_ripple", 0.0))
    return values


def _ripple(angle, torque):
    return _top(angle, torque, torque.argmax()) + _top(angle, -torque, torque.argmin())


def _top(angle, values, at):
    """The parabola's top through a greatest sample and its neighbours; flat tops are what they are."""
    if not 0 < at < len(values) - 1 or values[at] in (values[at - 1], values[at + 1]):
        return values[at]
    before, after = angle[at - 1] - angle[at], angle[at + 1] - angle[at]
    fall, rise = (values[at - 1] - values[at]) / before, (values[at + 1] - values[at]) / after
    bend = (rise - fall) / (after - before)
    slope = rise - bend * after
    return values[at] - slope**2 / (4 * bend)


def _fourier(angle, torque, orders, start, end):
    """Mean and complex amplitudes of the orders over crank angle, by the trapezium rule on the steps' own nodes."""
    inner = (angle > start) & (angle < end)
    ends = np.interp([start, end], angle, torque)
    angle = np.concatenate(([start], angle[inner], [end]))
    torque = np.concatenate((ends[:1], torque[inner], ends[1:]))
    waves = np.exp(-1j * np.outer(orders, angle))
    span = end - start
    return np.trapezoid(torque, angle) / span, 2 * np.trapezoid(torque * waves, angle, axis=1) / span


def _half_range(amplitudes, orders):
    """Of the synthesis over two turns."""
    place = np.linspace(0, 4 * math.pi, 2880, endpoint=False)
    return np.ptp(np.real(amplitudes @ np.exp(1j * np.outer(orders, place)))) / 2
