"""Pictures of sweeps and runs. Each function draws on `ax`, or on a new figure where none is given, and returns it.

matplotlib is loaded here and not by `import calmshaft`; no global state of it is touched.
"""

from calmshaft.plots.maps import ripple_map, ripple_maps, sweep_map
from calmshaft.plots.order_diagram import order_diagram
from calmshaft.plots.orders import order_bars
from calmshaft.plots.plate import plate_curve
from calmshaft.plots.traces import before_and_after, torque_trace

__all__ = [
    "before_and_after",
    "order_bars",
    "order_diagram",
    "plate_curve",
    "ripple_map",
    "ripple_maps",
    "sweep_map",
    "torque_trace",
]
