#include <pybind11/stl.h>

#include "arrays.hpp"
#include "bind.hpp"
#include "calmshaft/simulate/time_history.hpp"

namespace py = pybind11;
using namespace calmshaft;

namespace {

constexpr const char* end_words[] = {"reached", "not finite", "budget spent", "step vanished"};

py::dict stats_dict(const AdaptiveStats& stats) {
  return py::dict(py::arg("end") = end_words[static_cast<int>(stats.end)], py::arg("at") = stats.at,
                  py::arg("evaluations") = stats.evaluations, py::arg("accepted_steps") = stats.accepted_steps,
                  py::arg("rejected_steps") = stats.rejected_steps);
}

// (speed, twist, torque) at crank angle 0, one array each.
using Start = std::tuple<std::vector<double>, std::vector<double>, std::vector<double>>;

std::optional<TimeStart> checked_start(const ConditionModel& point, const std::optional<Start>& from) {
  if (!from) return std::nullopt;
  const auto& [speed, twist, torque] = *from;
  const auto stations = static_cast<std::size_t>(point.model.stations);
  const auto couplings = static_cast<std::size_t>(point.model.couplings());
  if (speed.size() != stations || twist.size() != couplings || torque.size() != couplings)
    throw py::value_error("start: give " + std::to_string(stations) + " speeds, " + std::to_string(couplings) +
                          " twists and as many torques, as a steady result's signals show them at crank angle 0");
  return TimeStart{speed, twist, torque};
}

py::dict history_dict(const PreparedLine& line, const Condition& condition, double fuelling, int cycles, int kept,
                      double relative_tolerance, std::optional<double> held_speed, const std::optional<Start>& start) {
  if (!(0 < kept && kept <= cycles)) throw py::value_error("kept: must lie from 1 to cycles");
  if (!(relative_tolerance > 0)) throw py::value_error("relative_tolerance: must be more than zero, e.g. 1e-8");
  if (!(held_speed.value_or(1.0) > 0)) throw py::value_error("held_speed: must be more than zero, in rad/s");
  TimeOptions options{cycles, kept, relative_tolerance, held_speed, {}};
  options.start = checked_start(ConditionModel(line, condition), start);
  TimeHistory history;
  {
    const py::gil_scoped_release released;
    history = time_history(line, condition, fuelling, options);
  }
  py::dict values;
  values["time"] = to_array(std::move(history.time));
  values["crank_angle"] = to_array(std::move(history.crank_angle));
  values["torque"] = channel_list(history.torque);
  values["twist"] = channel_list(history.twist);
  values["fuelling"] = to_array(std::move(history.fuelling));
  values["crank_speed"] = history.crank_speed;
  values["stats"] = stats_dict(history.stats);
  return values;
}

}  // namespace

void bind_time_history(py::module_& module) {
  module.def(
      "time_history", &history_dict, py::arg("line"), py::arg("condition"), py::arg("fuelling"), py::arg("cycles") = 60,
      py::arg("kept") = 1, py::arg("relative_tolerance") = 1e-8, py::arg("held_speed") = py::none(),
      py::arg("start") = py::none(),
      "The condition in time under step control: time [s] and crank_angle [rad] (node,), torque [N m] and twist "
      "[rad] (coupling, node) over the last `kept` engine cycles; fuelling [-] of each cycle; crank_speed [rad/s] at "
      "the end; stats.\n\n"
      "held_speed: mean crank speed [rad/s] that the fuelling is trimmed to hold, else the fuelling stays. "
      "start: (speed [rad/s] (station,), twist [rad] (coupling,), torque [N m] (coupling,)) at crank angle 0, as "
      "the first node of a steady result's signals; else the linear start. Raises ValueError.");
}
