#include <pybind11/functional.h>
#include <pybind11/stl.h>

#include "arrays.hpp"
#include "bind.hpp"
#include "calmshaft/sweep/sweep.hpp"
#include "watched.hpp"

namespace py = pybind11;
using namespace calmshaft;

namespace {

py::dict table_dict(SweepTable&& table, std::size_t points, bool interrupted) {
  const auto rows = static_cast<py::ssize_t>(points);
  const auto columns = static_cast<py::ssize_t>(measure_count);
  const auto matrix = [&](std::vector<double>& values) { return to_array(std::move(values), {rows, columns}); };
  py::dict values;
  values["value"] = matrix(table.value);
  values["mean"] = matrix(table.mean);
  values["lowest_cycle"] = matrix(table.lowest_cycle);
  values["highest_cycle"] = matrix(table.highest_cycle);
  values["standard_error"] = matrix(table.standard_error);
  values["order"] = to_array(std::move(table.order), {rows, points == 0 ? 0 : 48});
  values["fuelling"] = to_array(std::move(table.fuelling));
  values["energy_defect"] = to_array(std::move(table.energy_defect));
  values["status"] = to_array(std::move(table.status));
  values["overfuelled"] = to_array(std::move(table.overfuelled));
  values["period_cycles"] = to_array(std::move(table.period_cycles));
  values["cycles"] = to_array(std::move(table.cycles));
  values["steps_per_cycle"] = to_array(std::move(table.steps_per_cycle));
  values["interrupted"] = interrupted;
  return values;
}

py::dict sweep_dict(const std::vector<const PreparedLine*>& lines, const std::vector<int>& line_of_point,
                    const std::vector<Condition>& conditions, int threads, int steps_per_cycle,
                    const py::object& report, double phase_step, int column, const std::string& method) {
  if (line_of_point.size() != conditions.size()) throw py::value_error("one line index is needed for each condition");
  if (column < 1 || conditions.size() % static_cast<std::size_t>(column) != 0)
    throw py::value_error("points must fill whole columns");
  std::vector<PreparedLine> owned;
  for (const PreparedLine* line : lines) owned.push_back(*line);
  std::vector<SweepPoint> points;
  for (std::size_t i = 0; i < conditions.size(); ++i) {
    if (line_of_point[i] < 0 || line_of_point[i] >= static_cast<int>(lines.size()))
      throw py::index_error("line index outside the lines");
    points.push_back({line_of_point[i], conditions[i]});
  }
  SweepTable table(points.size());
  SweepProgress progress;
  const SteadyOptions steady{steps_per_cycle, SteadyOptions{}.most_cycles, false, phase_step, method_of(method)};
  const SweepOptions options{threads, static_cast<std::size_t>(column), steady};
  const auto tell = [&] {
    if (!report.is_none()) report(progress.done.load());
  };
  const bool interrupted = run_watched([&] { sweep(owned, points, options, table, progress); }, progress.stop, tell);
  return table_dict(std::move(table), points.size(), interrupted);
}

}  // namespace

void bind_sweep(py::module_& module) {
  module.def(
      "sweep", &sweep_dict, py::arg("lines"), py::arg("line_of_point"), py::arg("conditions"), py::arg("threads") = 0,
      py::arg("steps_per_cycle") = 0, py::arg("report") = py::none(), py::arg("phase_step") = 0.0,
      py::arg("column") = 1, py::arg("method") = "leapfrog",
      "Steady state of many conditions on all cores; arrays (point,) and (point, measure). "
      "`report(done)` is called about twenty times a second. phase_step: most that the highest mode may turn in a step "
      "[rad] where steps_per_cycle is 0; 0: the method's usual. column: so many points in a row start each from the "
      "end of the "
      "one before. method: 'leapfrog' or 'runge kutta'; raises ValueError for another.");
}
