#include "bind.hpp"

PYBIND11_MODULE(_core, module) {
  module.doc() = "Compiled part of calmshaft. Values are SI and radians.";
  module.attr("__version__") = CALMSHAFT_VERSION;
  bind_errors(module);
  bind_line(module);
  bind_parts(module);
  bind_oscillation(module);
  bind_simulate(module);
  bind_linear(module);
  bind_manoeuvre(module);
  bind_measure(module);
  bind_sweep(module);
  bind_time_history(module);
}
