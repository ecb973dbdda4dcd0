#include <pybind11/complex.h>
#include <pybind11/stl.h>

#include "arrays.hpp"
#include "audit.hpp"
#include "bind.hpp"
#include "calmshaft/simulate/linear_start.hpp"
#include "calmshaft/simulate/steady.hpp"
#include "names.hpp"

namespace py = pybind11;
using namespace calmshaft;

namespace {

py::dict measures_dict(const Measures& measures) {
  py::dict values;
  for (std::size_t m = 0; m < measure_count; ++m) values[py::str(std::string(measure_list[m].name))] = measures[m];
  return values;
}

py::dict spread_dict(const SteadyResult& result) {
  py::dict values;
  for (std::size_t m = 0; m < measure_count; ++m) {
    const CycleStatistics& spread = result.spread[m];
    values[py::str(std::string(measure_list[m].name))] =
        py::dict(py::arg("mean") = spread.mean, py::arg("lowest_cycle") = spread.lowest,
                 py::arg("highest_cycle") = spread.highest, py::arg("standard_error") = spread.standard_error,
                 py::arg("cycles") = spread.cycles);
  }
  return values;
}

py::dict signals_dict(const PreparedLine& line, const Condition& condition, CycleRecord& record) {
  const ConditionModel point(line, condition);
  return py::dict(py::arg("step") = record.step, py::arg("time") = to_array(std::move(record.time)),
                  py::arg("speed") = channel_list(record.speed), py::arg("twist") = channel_list(record.twist),
                  py::arg("torque") = channel_list(record.torque), py::arg("stations") = station_names(point.system),
                  py::arg("couplings") = coupling_names(point.system));
}

py::dict steady_dict(const PreparedLine& line, const Condition& condition, int steps_per_cycle, int most_cycles,
                     const std::string& method) {
  SteadyResult result;
  {
    const py::gil_scoped_release released;
    result = steady(line, condition, {steps_per_cycle, most_cycles, true, 0.0, method_of(method)});
  }
  py::dict values;
  values["status"] = static_cast<int>(result.status);
  values["reason"] = result.reason;
  values["measures"] = measures_dict(result.measures);
  values["spread"] = spread_dict(result);
  values["orders"] = to_array(std::move(result.orders));
  values["fuelling"] = result.fuelling;
  values["overfuelled"] = result.overfuelled;
  values["period_cycles"] = result.period_cycles;
  values["cycles"] = result.cycles;
  values["steps_per_cycle"] = result.steps_per_cycle;
  values["energy_audit"] = audit_dict(result.audit);
  if (!result.record.time.empty()) values["signals"] = signals_dict(line, condition, result.record);
  return values;
}

py::dict station_dict(const Station& station) {
  return py::dict(py::arg("name") = station.name, py::arg("inertia") = station.inertia,
                  py::arg("speed_ratio") = station.speed_ratio);
}

struct CouplingDict {
  py::dict operator()(const LinearSpring& c) const {
    return py::dict(py::arg("kind") = "spring", py::arg("name") = c.name, py::arg("from") = c.from,
                    py::arg("to") = c.to, py::arg("stiffness") = c.stiffness, py::arg("damping") = c.damping);
  }
  py::dict operator()(const StagedDamper& c) const {
    py::list ramps;
    for (const Ramp& ramp : c.ramps)
      ramps.append(
          py::dict(py::arg("side") = ramp.side, py::arg("corner") = ramp.corner, py::arg("slope") = ramp.slope));
    return py::dict(py::arg("kind") = "staged damper", py::arg("name") = c.name, py::arg("from") = c.from,
                    py::arg("to") = c.to, py::arg("ramps") = ramps, py::arg("damping") = c.damping,
                    py::arg("friction_torque") = c.friction_torque, py::arg("presliding_angle") = c.presliding_angle,
                    py::arg("drive_stop") = c.drive_stop, py::arg("coast_stop") = c.coast_stop,
                    py::arg("stop_stiffness") = c.stop.stiffness,
                    py::arg("stop_damping_factor") = c.stop.damping_factor);
  }
  py::dict operator()(const GearMesh& c) const {
    return py::dict(py::arg("kind") = c.loaded ? "loaded mesh" : "unloaded mesh", py::arg("name") = c.name,
                    py::arg("from") = c.from, py::arg("to") = c.to, py::arg("ratio") = c.ratio,
                    py::arg("half_backlash") = c.half_backlash, py::arg("stiffness") = c.contact.stiffness,
                    py::arg("damping_factor") = c.contact.damping_factor);
  }
};

struct LoadDict {
  py::dict operator()(const SquareLoad& l) const {
    return py::dict(py::arg("kind") = "square law", py::arg("name") = l.name, py::arg("station") = l.station,
                    py::arg("coefficient") = l.coefficient, py::arg("extra_damping") = l.extra_damping);
  }
  py::dict operator()(const Drag& l) const {
    return py::dict(py::arg("kind") = "drag", py::arg("name") = l.name, py::arg("station") = l.station,
                    py::arg("torque") = l.torque);
  }
};

py::dict tables_dict(EngineTables tables) {
  return py::dict(py::arg("nodes") = tables.nodes, py::arg("cycle") = tables.cycle,
                  py::arg("inertia") = to_array(std::move(tables.inertia)),
                  py::arg("inertia_slope") = to_array(std::move(tables.inertia_slope)),
                  py::arg("base_torque") = to_array(std::move(tables.base_torque)),
                  py::arg("fuelled_torque") = to_array(std::move(tables.fuelled_torque)));
}

// The system that the integration sees, in SI, as plain values.
py::dict system_dict(const PreparedLine& line, const Condition& condition, int nodes) {
  const ConditionModel point(line, condition);
  py::list stations, couplings, loads;
  for (const Station& station : point.system.stations) stations.append(station_dict(station));
  for (const Coupling& coupling : point.system.couplings) couplings.append(std::visit(CouplingDict{}, coupling));
  for (const Load& load : point.system.loads) loads.append(std::visit(LoadDict{}, load));
  const Model& model = point.model;
  return py::dict(py::arg("stations") = stations, py::arg("couplings") = couplings, py::arg("loads") = loads,
                  py::arg("engine_friction") = py::dict(
                      py::arg("constant") = model.friction_constant, py::arg("per_speed") = model.friction_per_speed,
                      py::arg("per_speed_squared") = model.friction_per_speed_squared),
                  py::arg("mean_torque") = point.mean.coupling_torque, py::arg("resistance") = point.mean.resistance,
                  py::arg("steps_per_cycle") = point.steps_per_cycle(),
                  py::arg("tables") = tables_dict(line.cycles().tables(condition.strengths, nodes)));
}

// Where the march to the steady state begins, at crank angle 0.
py::dict start_dict(const PreparedLine& line, const Condition& condition, double fuelling) {
  constexpr int steps = 720;
  const ConditionModel point(line, condition);
  const StartState start = linear_start(point, point.tables(steps), fuelling);
  const auto part = [&start](int first, int count) {
    const auto begin = start.state.begin() + first;
    return std::vector<double>(begin, begin + count);
  };
  std::vector<double> slider;
  for (int i = 0; i < point.model.dampers; ++i) slider.push_back(start.friction[i].slider_twist);
  const int n = point.model.stations;
  return py::dict(py::arg("angle") = part(0, n), py::arg("speed") = part(n, n), py::arg("slider_twist") = slider);
}

py::list measure_infos() {
  py::list infos;
  for (const MeasureInfo& info : measure_list)
    infos.append(py::make_tuple(std::string(info.name), std::string(info.unit), std::string(info.meaning), info.peak));
  return infos;
}

}  // namespace

void bind_simulate(py::module_& module) {
  py::class_<PreparedLine>(module, "PreparedLine", "A checked line with its engine's cycles worked out.")
      .def(py::init<const Line&>(), py::arg("line"), py::call_guard<py::gil_scoped_release>(),
           "Raises LineError with every fault of the line.")
      .def(py::init<const Line&, const PreparedLine&>(), py::arg("line"), py::arg("like"),
           py::call_guard<py::gil_scoped_release>(),
           "The same; where `like` has the same engine its cycles serve both. Raises LineError.");
  module.def("steady", &steady_dict, py::arg("line"), py::arg("condition"), py::arg("steps_per_cycle") = 0,
             py::arg("most_cycles") = 72, py::arg("method") = "leapfrog",
             "Steady state of one condition as plain values; signals over the last period. method: 'leapfrog' or "
             "'runge kutta'; "
             "raises ValueError for another.");
  module.def("mass_elastic_system", &system_dict, py::arg("line"), py::arg("condition"), py::arg("nodes") = 1440,
             "Stations, couplings, loads and crank tables that the integration uses, in SI.");
  module.def("linear_start", &start_dict, py::arg("line"), py::arg("condition"), py::arg("fuelling"),
             "Angles [rad] and speeds [rad/s] by station, slider twist [rad] of each damper: where the march begins.");
  module.attr("measure_list") = py::tuple(measure_infos());
}
