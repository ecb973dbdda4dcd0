"""Histories whose orders are known because they were put in: a crank that speeds up with a ripple, torque by order."""

import numpy as np
import xarray as xr

RPM = np.pi / 30.0  # [rad/s] per rpm
# order: amplitude [N m] and phase [rad]
ORDERS = {0.5: (6.0, 0.3), 2.0: (40.0, -1.1), 4.0: (12.0, 2.0), 12.0: (3.0, 0.7), 24.0: (1.0, 0.0)}


def torque_at(angle, rpm, orders=None, growth=0.0):
    """Torque [N m]: a mean by the square of the speed, and orders that grow by `growth` per 1000 rpm above 600."""
    wave = 150.0 * (rpm / 2600.0) ** 2
    for order, (amplitude, phase) in (orders or ORDERS).items():
        wave = wave + amplitude * (1.0 + growth * (rpm - 600.0) / 1000.0) * np.cos(order * angle + phase)
    return wave


def run_up(start=600.0, stop=2600.0, seconds=20.0, step=1e-4, growth=0.0, orders=None):
    """Signals over time [s] of a run-up from `start` to `stop` [rpm] with a swing of 3 mrad of order 2 in the crank."""
    time = np.arange(0.0, seconds, step)
    rpm = start + (stop - start) * time / seconds
    even = RPM * (start * time + (stop - start) * time**2 / (2 * seconds))
    angle = even + 0.003 * np.sin(2 * even)
    speed = RPM * rpm * (1 + 0.006 * np.cos(2 * even))
    torque = torque_at(angle, rpm, orders, growth)
    return signals(time, angle, speed, torque)


def signals(time, angle, speed, torque):
    """The Dataset that a history holds: one station, one plate, one loaded mesh."""
    about = {"units": "N m", "long_name": "torque at the coupling's driving side"}
    twist = torque / 2000.0
    return xr.Dataset(
        {
            "speed": (("station", "time"), speed[None], {"units": "rad/s", "long_name": "speed"}),
            "twist": (("coupling", "time"), np.stack([twist, twist / 100]), {"units": "rad", "long_name": "twist"}),
            "torque": (("coupling", "time"), np.stack([torque, torque]), about),
        },
        {
            "time": ("time", time, {"units": "s"}),
            "crank_angle": ("time", angle, {"units": "rad"}),
            "station": ["crank and flywheel"],
            "coupling": ["plate", "loaded mesh"],
        },
    )
