#include <pybind11/stl.h>

#include "arrays.hpp"
#include "audit.hpp"
#include "bind.hpp"
#include "calmshaft/simulate/manoeuvre.hpp"
#include "fields.hpp"
#include "watched.hpp"

namespace py = pybind11;
using namespace calmshaft;

namespace {

constexpr std::array status_names{"finished", "at rest", "hunting", "stalled", "unfinished", "failed", "interrupted"};

py::array_t<double> matrix(const std::vector<std::vector<double>>& rows, std::size_t columns) {
  std::vector<double> values;
  values.reserve(rows.size() * columns);
  for (const auto& row : rows) values.insert(values.end(), row.begin(), row.end());
  return to_array(std::move(values), {static_cast<py::ssize_t>(rows.size()), static_cast<py::ssize_t>(columns)});
}

py::dict signals_dict(History& history) {
  const std::size_t samples = history.time.size();
  return py::dict(py::arg("speed") = matrix(history.speed, samples), py::arg("twist") = matrix(history.twist, samples),
                  py::arg("torque") = matrix(history.torque, samples),
                  py::arg("time") = to_array(std::move(history.time)),
                  py::arg("crank_angle") = to_array(std::move(history.crank_angle)),
                  py::arg("fuelling") = to_array(std::move(history.fuelling)), py::arg("stations") = history.stations,
                  py::arg("couplings") = history.couplings);
}

py::tuple peak_tuple(const Peak& peak) {
  return py::make_tuple(peak.least, peak.least_at, peak.greatest, peak.greatest_at);
}

py::dict peaks_dict(const History& history) {
  py::dict peaks;
  for (std::size_t i = 0; i < history.twist_peak.size(); ++i)
    peaks[py::str(history.couplings[i])] = py::dict(py::arg("twist") = peak_tuple(history.twist_peak[i]),
                                                    py::arg("torque") = peak_tuple(history.torque_peak[i]));
  return peaks;
}

py::dict shares_dict(const History& history) {
  py::dict shares;
  const std::size_t first = history.couplings.size() - history.shares.size();
  for (std::size_t i = 0; i < history.shares.size(); ++i)
    shares[py::str(history.couplings[first + i])] =
        py::dict(py::arg("drive") = history.shares[i].drive, py::arg("separated") = history.shares[i].separated,
                 py::arg("coast") = history.shares[i].coast);
  return shares;
}

py::dict clutches_dict(const History& history) {
  py::dict clutches;
  for (const ClutchWork& clutch : history.clutches)
    clutches[py::str(history.couplings[static_cast<std::size_t>(clutch.coupling)])] = py::dict(
        py::arg("heat") = clutch.heat, py::arg("slip_ended") = clutch.slip_ended, py::arg("slips") = clutch.slips);
  return clutches;
}

py::dict books_dict(const History& history) {
  py::dict books = audit_dict(history.audit);
  books["starter_work"] = history.audit.starter_work;
  return books;
}

py::dict history_dict(History&& history) {
  py::dict values;
  values["status"] = status_names[static_cast<std::size_t>(history.status)];
  values["reason"] = history.reason;
  values["peaks"] = peaks_dict(history);
  values["stop_hits"] = py::dict(py::arg("drive") = to_array(std::move(history.drive_stop_hits)),
                                 py::arg("coast") = to_array(std::move(history.coast_stop_hits)));
  values["mesh"] = shares_dict(history);
  values["clutch"] = clutches_dict(history);
  values["energy_audit"] = books_dict(history);
  values["statistics"] =
      py::dict(py::arg("evaluations") = history.stats.evaluations, py::arg("steps") = history.stats.accepted_steps,
               py::arg("rejected_steps") = history.stats.rejected_steps, py::arg("ended_at") = history.stats.at);
  values["signals"] = signals_dict(history);
  return values;
}

py::dict simulate_dict(const PreparedLine& line, const Condition& condition, const Schedule& schedule,
                       const ManoeuvreOptions& asked) {
  History history;
  std::atomic<bool> stop{false};
  ManoeuvreOptions options = asked;
  options.stop = &stop;
  const bool interrupted = run_watched([&] { history = simulate(line, condition, schedule, options); }, stop, [] {});
  py::dict values = history_dict(std::move(history));
  values["interrupted"] = interrupted;
  return values;
}

void bind_schedule(py::module_& module) {
  Fields<Schedule>(module, "Schedule",
                   "What a manoeuvre does over time. Tracks are lists of (time [s], value): straight between points.")
      .field("duration", &Schedule::duration, "[s]")
      .field("speed", &Schedule::speed, "[rad/s] mean crank speed asked of the governor")
      .field("load", &Schedule::load, "[-] factor of the propeller's torque")
      .field("fuel", &Schedule::fuel, "[-] 1 on, 0 off")
      .field("starter", &Schedule::starter, "[-] 1 turns the crank at the condition's speed, 0 off")
      .field("fault", &Schedule::fault, "[-] 1: faulty_strengths hold, 0: those of the condition")
      .field("faulty_strengths", &Schedule::faulty_strengths, "[-] 0..1 by cylinder number")
      .field("engages", &Schedule::engages, "Gear to change to, or None")
      .field("release", &Schedule::release, "[N m] capacity of the clutch of the gear at the start")
      .field("engage", &Schedule::engage, "[N m] capacity of the clutch of the gear to engage")
      .finish();
  Fields<Governor>(module, "Governor", "How the fuelling follows the speed.")
      .field("droop", &Governor::droop, "[-] fall of speed from no to rated torque, over rated speed")
      .field("lag", &Governor::lag, "[s]")
      .field("most_fuelling", &Governor::most_fuelling, "[-] 1 gives rated torque at rated speed")
      .finish();
  Fields<ManoeuvreOptions>(module, "ManoeuvreOptions", "How a manoeuvre is integrated and sampled.")
      .field("governor", &ManoeuvreOptions::governor, "Governor")
      .field("stall_speed", &ManoeuvreOptions::stall_speed, "[rad/s] below it the engine no longer runs")
      .field("sample_interval", &ManoeuvreOptions::sample_interval, "[s] 0: by the greatest speed asked")
      .field("most_samples", &ManoeuvreOptions::most_samples, "samples, whatever the interval")
      .field("settle_cycles", &ManoeuvreOptions::settle_cycles, "engine cycles before time 0")
      .field("tolerance", &ManoeuvreOptions::tolerance, "[-] error of torque in a step over rated torque")
      .field("most_evaluations", &ManoeuvreOptions::most_evaluations, "of the derivative, then the run ends")
      .finish();
}

}  // namespace

void bind_manoeuvre(py::module_& module) {
  bind_schedule(module);
  module.def("simulate", &simulate_dict, py::arg("line"), py::arg("condition"), py::arg("schedule"),
             py::arg("options") = ManoeuvreOptions{}, "A line through a manoeuvre, as plain values.");
}
