"""Results as labelled arrays: names, units and meanings come from the compiled library's own list."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np

from calmshaft import _core

if TYPE_CHECKING:
    import xarray as xr

STATUS = ("periodic", "subharmonic", "aperiodic", "stalled", "failed")
ORDERS = np.arange(1, 49) / 2.0
SPREADS = ("mean", "lowest_cycle", "highest_cycle", "standard_error")
SPREAD_WORDS = {
    "mean": "mean over engine cycles of",
    "lowest_cycle": "engine cycle with the lowest",
    "highest_cycle": "engine cycle with the highest",
    "standard_error": "standard error of the mean over engine cycles of",
}


@dataclass(frozen=True, slots=True)
class Measure:
    """One measured number: its name, SI unit, meaning, and whether it is a peak (NaN where motion does not repeat)."""

    name: str
    unit: str
    meaning: str
    peak: bool

    @property
    def has_spread(self) -> bool:
        """True where the per-cycle values vary enough to be reported beside the value."""
        return self.peak or self.name in (
            "mesh_torque_vibratory",
            "mesh_impact_power",
            "unloaded_mesh_impact_power",
        )


MEASURES = tuple(Measure(*info) for info in _core.measure_list)


def status_attributes() -> dict[str, Any]:
    """CF flag attributes of the variable `status`."""
    return {
        "long_name": "what the motion does",
        "flag_values": np.arange(len(STATUS), dtype=np.int8),
        "flag_meanings": " ".join(STATUS),
    }


def blank_table(points: int) -> dict[str, np.ndarray]:
    """The arrays of a compiled sweep with no point reached: NaN, counts of 0, status -1."""

    def counts(kind: type) -> np.ndarray:
        return np.zeros(points, kind)

    by_measure = {name: np.full((points, len(MEASURES)), np.nan) for name in ("value", *SPREADS)}
    return {
        **by_measure,
        "order": np.full((points, ORDERS.size), np.nan),
        "fuelling": np.full(points, np.nan),
        "energy_defect": np.full(points, np.nan),
        "status": np.full(points, -1, np.int8),
        "overfuelled": counts(np.uint8),
        **{name: counts(np.int32) for name in ("period_cycles", "cycles", "steps_per_cycle")},
    }


def dims_of(coords: Mapping[str, Any]) -> tuple[str, ...]:
    """The dims of the points, in order."""
    found: dict[str, None] = {}
    for dims, *_ in coords.values():
        found.update(dict.fromkeys([dims] if isinstance(dims, str) else dims))
    return tuple(found)


def sweep_dataset(
    table: Mapping[str, Any], coords: Mapping[str, Any], shape: tuple[int, ...], attributes: Mapping[str, Any]
) -> xr.Dataset:
    """The compiled sweep's arrays as a Dataset whose dims are those of `coords`, in their order."""
    import xarray as xr

    dims = dims_of(coords)
    variables: dict[str, Any] = {}
    for column, measure in enumerate(MEASURES):
        about = {"units": measure.unit, "long_name": measure.meaning}
        variables[measure.name] = (dims, table["value"][:, column].reshape(shape), about)
        for spread in SPREADS if measure.has_spread else ():
            about = {"units": measure.unit, "long_name": f"{SPREAD_WORDS[spread]} {measure.meaning}"}
            variables[f"{measure.name}_{spread}"] = (dims, table[spread][:, column].reshape(shape), about)
    about = {
        "units": "N m",
        "long_name": "amplitude by order of the torque in the loaded mesh (neutral: unloaded pair)",
    }
    variables["mesh_torque_order"] = ((*dims, "order"), table["order"].reshape(*shape, ORDERS.size), about)
    for name, unit, meaning in (
        ("fuelling_factor", "1", "fuelling factor, 1 gives rated torque at rated speed"),  # `fuelling` is an axis
        ("energy_defect", "1", "energy audit of the last period: work not accounted for over throughput"),
        ("period_cycles", "1", "engine cycles after which the motion repeats, 0: it does not"),
        ("cycles", "1", "engine cycles integrated"),
        ("steps_per_cycle", "1", "integration steps in an engine cycle"),
    ):
        column = table[name.removesuffix("_factor")]
        variables[name] = (dims, column.reshape(shape), {"units": unit, "long_name": meaning})
    variables["overfuelled"] = (
        dims,
        table["overfuelled"].astype(bool).reshape(shape),
        {"long_name": "more fuel needed than at rated torque"},
    )
    variables["status"] = (dims, table["status"].reshape(shape), status_attributes())
    order = ("order", ORDERS, {"units": "1", "long_name": "order, events per crank turn"})
    return xr.Dataset(variables, {**coords, "order": order}, dict(attributes))


def signals_dataset(signals: Mapping[str, Any], attributes: Mapping[str, Any]) -> xr.Dataset:
    """Signals over `crank_angle` [rad], with stations and couplings by name."""
    import xarray as xr

    time = signals["time"]
    angle = np.arange(time.size) * signals["step"]
    shape = (len(signals["couplings"]), time.size)  # a rigid drive in neutral without a free pair has no coupling
    return xr.Dataset(
        {
            "time": ("crank_angle", time, {"units": "s", "long_name": "time"}),
            "speed": (
                ("station", "crank_angle"),
                np.array(signals["speed"]),
                {"units": "rad/s", "long_name": "speed of the station's own shaft"},
            ),
            "twist": (
                ("coupling", "crank_angle"),
                np.reshape(signals["twist"], shape),
                {"units": "rad", "long_name": "twist at the coupling's driving side"},
            ),
            "torque": (
                ("coupling", "crank_angle"),
                np.reshape(signals["torque"], shape),
                {"units": "N m", "long_name": "torque at the coupling's driving side"},
            ),
        },
        {
            "crank_angle": (
                "crank_angle",
                angle,
                {"units": "rad", "long_name": "crank angle, 0 = firing top dead centre of cylinder 1"},
            ),
            "station": list(signals["stations"]),
            "coupling": list(signals["couplings"]),
        },
        dict(attributes),
    )
