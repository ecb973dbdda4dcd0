// The linear view: chains and linearised lines, their matrices, modes and forced response.
#include <pybind11/complex.h>
#include <pybind11/eigen.h>

#include "arrays.hpp"
#include "bind.hpp"
#include "calmshaft/simulate/condition_model.hpp"
#include "calmshaft/simulate/cycle_measures.hpp"
#include "calmshaft/simulate/excitation.hpp"
#include "calmshaft/simulate/linear_start.hpp"
#include "calmshaft/solve/chain.hpp"
#include "calmshaft/solve/forced_response.hpp"
#include "calmshaft/solve/modes.hpp"
#include "fields.hpp"
#include "names.hpp"

namespace py = pybind11;
using namespace calmshaft;

namespace {

struct Kind {
  std::string operator()(const LinearSpring&) const { return "spring"; }
  std::string operator()(const StagedDamper&) const { return "plate"; }
  std::string operator()(const GearMesh& mesh) const { return mesh.loaded ? "loaded mesh" : "unloaded mesh"; }
};

py::dict modes_dict(const LinearLine& line) {
  const Modes found = modes(linear_system(line));
  return py::dict(py::arg("angular_frequency") = found.angular_frequency,
                  py::arg("shapes") = Eigen::MatrixXd(found.shapes.transpose()), py::arg("poles") = found.poles);
}

py::dict matrices_dict(const LinearLine& line) {
  const LinearSystem system = linear_system(line);
  return py::dict(py::arg("inertia") = system.inertia, py::arg("damping") = system.damping,
                  py::arg("stiffness") = system.stiffness, py::arg("expansion") = system.expansion);
}

py::dict response_dict(const LinearLine& line, const Eigen::VectorXd& omega, const Eigen::MatrixXcd& torque) {
  const ForcedResponse found = forced_response(line, omega, torque);
  return py::dict(py::arg("angle") = found.angle, py::arg("torque") = found.torque,
                  py::arg("power_in") = found.power_in, py::arg("power_dissipated") = found.power_dissipated);
}

// One array a quantity over all joints.
template <class Value>
py::array_t<Value> joint_values(const LinearLine& line, Value LinearJoint::*member) {
  std::vector<Value> values;
  for (const LinearJoint& joint : line.joints) values.push_back(joint.*member);
  return to_array(std::move(values));
}

py::dict linearised_dict(const PreparedLine& prepared, const Condition& condition) {
  const ConditionModel point(prepared, condition);
  std::vector<double> ratios;
  for (const Station& station : point.system.stations) ratios.push_back(station.speed_ratio);
  return py::dict(py::arg("line") = point.linear_line(), py::arg("stations") = station_names(point.system),
                  py::arg("speed_ratios") = ratios, py::arg("joints") = coupling_names(point.system),
                  py::arg("kinds") = of_couplings(point.system, Kind{}),
                  py::arg("mean_torque") = point.mean.coupling_torque,
                  py::arg("mean_twist") = point.mean.coupling_twist);
}

// By orders 0.5 to 24: the cycle of a two-stroke is one turn, so it has whole orders only.
py::dict excitation_dict(const PreparedLine& prepared, const Condition& condition) {
  constexpr int nodes = 720;  // of the cycle
  const ConditionModel point(prepared, condition);
  const EngineTables tables = point.tables(nodes);
  const double fuelling = balanced_fuelling(point, tables);
  const auto harmonics = excitation(tables, fuelling, condition.speed, bins_for(tables.nodes));
  const std::size_t half_orders = prepared.line().engine.strokes == 4 ? 1 : 2;
  std::vector<std::complex<double>> by_order(highest_harmonic);
  for (std::size_t k = 1; k * half_orders <= by_order.size(); ++k) by_order[k * half_orders - 1] = harmonics[k];
  return py::dict(py::arg("fuelling") = fuelling, py::arg("torque") = to_array(std::move(by_order)));
}

void bind_chain(py::module_& module) {
  Fields<Chain>(module, "Chain", "Discs on shafts, one after the other (SI).")
      .field("names", &Chain::names, "Of the stations.")
      .field("inertias", &Chain::inertias, "[kg m^2]")
      .field("stiffnesses", &Chain::stiffnesses, "[N m/rad] one a joint, None at a gear pair")
      .field("dampings", &Chain::dampings, "[N m s/rad] one a joint, or empty")
      .field("speed_ratios", &Chain::speed_ratios, "[-] own speed over the first station's, or empty")
      .field("ground_stiffnesses", &Chain::ground_stiffnesses, "[N m/rad] one a station, or empty")
      .field("ground_dampings", &Chain::ground_dampings, "[N m s/rad] one a station, or empty")
      .field("fixed", &Chain::fixed, "Numbers of stations held still.")
      .finish();
  module.def("check_chain", py::overload_cast<const Chain&>(&check), py::arg("chain"), "Every fault of a chain.");
  module.def("linear_line", py::overload_cast<const Chain&>(&linear_line), py::arg("chain"),
             "The linear line of a chain without faults.");
}

void bind_linear_line(py::module_& module) {
  py::class_<LinearLine>(module, "LinearLine", "Stations and joints for linear questions (SI), each in its own frame.")
      .def_readonly("inertia", &LinearLine::inertia, "[kg m^2] (station,)")
      .def_readonly("ground_stiffness", &LinearLine::ground_stiffness, "[N m/rad] (station,)")
      .def_readonly("ground_damping", &LinearLine::ground_damping, "[N m s/rad] (station,)")
      .def_readonly("fixed", &LinearLine::fixed, "Numbers of stations held still.")
      .def_property_readonly("from_station",
                             [](const LinearLine& line) { return joint_values(line, &LinearJoint::from); })
      .def_property_readonly("to_station", [](const LinearLine& line) { return joint_values(line, &LinearJoint::to); })
      .def_property_readonly("ratio", [](const LinearLine& line) { return joint_values(line, &LinearJoint::ratio); })
      .def_property_readonly("stiffness",
                             [](const LinearLine& line) { return joint_values(line, &LinearJoint::stiffness); })
      .def_property_readonly("damping",
                             [](const LinearLine& line) { return joint_values(line, &LinearJoint::damping); })
      .def("matrices", &matrices_dict, "Inertia, damping, stiffness of the free coordinates, and their expansion.")
      .def("modes", &modes_dict, "Natural frequencies [rad/s], shapes (mode, station), damped poles [rad/s].")
      .def("response", &response_dict, py::arg("omega"), py::arg("torque"),
           "Answer to torques [N m] (omega, station). Raises SolveError at a resonance that nothing damps.");
}

}  // namespace

void bind_linear(py::module_& module) {
  bind_chain(module);
  bind_linear_line(module);
  module.def(
      "linearised", &linearised_dict, py::arg("line"), py::arg("condition"),
      "The line at the condition's mean torque, contacts closed; names, speed ratios, kinds, means of its joints.");
  module.def("excitation", &excitation_dict, py::arg("line"), py::arg("condition"),
             "Fuelling that keeps the speed, and the engine's torque [N m] by orders 0.5, 1, ... 24, complex.");
}
