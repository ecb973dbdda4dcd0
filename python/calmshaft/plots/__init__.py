"""Pictures of sweeps and runs. Each function draws on `ax`, or on a new figure where none is given, and returns it.

matplotlib is loaded here and not by `import calmshaft`; no global state of it is touched.
"""

from calmshaft.arguments import public
from calmshaft.plots.cases import cases
from calmshaft.plots.comparison import comparison
from calmshaft.plots.contact import contact_timeline
from calmshaft.plots.drawing import side_view
from calmshaft.plots.manoeuvres import history
from calmshaft.plots.maps import ripple_map, ripple_maps, sweep_map
from calmshaft.plots.misfiring import misfiring_ladder
from calmshaft.plots.order_diagram import order_diagram
from calmshaft.plots.orders import order_bars
from calmshaft.plots.plate import plate_curve, torque_angle_loop
from calmshaft.plots.plate_over_speed import plate_over_speed
from calmshaft.plots.tornado import tornado
from calmshaft.plots.traces import before_and_after, torque_trace
from calmshaft.plots.tracks import order_tracks
from calmshaft.plots.window import plate_window

__all__ = [
    "before_and_after",
    "cases",
    "comparison",
    "contact_timeline",
    "history",
    "misfiring_ladder",
    "order_bars",
    "order_diagram",
    "order_tracks",
    "plate_curve",
    "plate_over_speed",
    "plate_window",
    "ripple_map",
    "ripple_maps",
    "side_view",
    "sweep_map",
    "tornado",
    "torque_angle_loop",
    "torque_trace",
]

for _name in __all__:
    globals()[_name] = public(_name, globals()[_name], __name__)
