// Measures of recorded signals that serve measured data as well.
#include <cstddef>
#include <span>

#include "arrays.hpp"
#include "bind.hpp"
#include "calmshaft/measure/rainflow.hpp"

namespace py = pybind11;
using namespace calmshaft;

namespace {

using Signal = py::array_t<double, py::array::c_style | py::array::forcecast>;

py::tuple rainflow_arrays(const Signal& values) {
  std::vector<CountedCycle> cycles;
  {
    const std::span<const double> samples(values.data(), static_cast<std::size_t>(values.size()));
    const py::gil_scoped_release others_may_run;
    cycles = rainflow(samples);
  }
  std::vector<double> range, mean, count;
  for (auto* column : {&range, &mean, &count}) column->reserve(cycles.size());
  for (const CountedCycle& cycle : cycles) {
    range.push_back(cycle.range);
    mean.push_back(cycle.mean);
    count.push_back(cycle.count);
  }
  return py::make_tuple(to_array(std::move(range)), to_array(std::move(mean)), to_array(std::move(count)));
}

}  // namespace

void bind_measure(py::module_& module) {
  module.def("rainflow", &rainflow_arrays, py::arg("values"),
             "Ranges, means [unit of the values] and counts [-] of the cycles in a history, by the rule of ASTM "
             "E1049-85, 5.4.4; ValueError for a value that is not finite.");
}
