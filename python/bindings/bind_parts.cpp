// Single parts of the engine and of the plate's friction, one function each, over arrays of angles.
#include <pybind11/complex.h>
#include <pybind11/stl.h>

#include "arrays.hpp"
#include "bind.hpp"
#include "calmshaft/engine/burn.hpp"
#include "calmshaft/engine/cylinder_cycle.hpp"
#include "calmshaft/engine/firing.hpp"
#include "calmshaft/engine/friction.hpp"
#include "calmshaft/measure/orders.hpp"
#include "calmshaft/model/dynamics.hpp"

namespace py = pybind11;
using namespace calmshaft;

namespace {

using Angles = py::array_t<double, py::array::c_style | py::array::forcecast>;

// f(angle) at each of the angles, in their shape.
template <class F>
py::object along(const Angles& angles, const F& f) {
  return py::vectorize([&f](double angle) { return f(angle); })(angles);
}

void bind_slider_crank(py::module_& module) {
  module.def(
      "piston_motion",
      [](const Engine& engine, const Angles& angle) {
        const SliderCrank crank = slider_crank(engine);
        return py::make_tuple(along(angle, [&](double at) { return piston_motion(crank, at).travel; }),
                              along(angle, [&](double at) { return piston_motion(crank, at).slope; }),
                              along(angle, [&](double at) { return piston_motion(crank, at).curvature; }));
      },
      py::arg("engine"), py::arg("angle"),
      "Travel [m] from top dead centre, its slope [m/rad] and curvature [m/rad^2] at crank angles [rad].");
  module.def(
      "moving_inertia",
      [](const Engine& engine, const Angles& angle) {
        const SliderCrank crank = slider_crank(engine);
        const MovingParts parts = moving_parts(engine);
        return py::make_tuple(along(angle, [&](double at) { return moving_inertia(crank, parts, at).value; }),
                              along(angle, [&](double at) { return moving_inertia(crank, parts, at).slope; }));
      },
      py::arg("engine"), py::arg("angle"),
      "Inertia [kg m^2] of one piston and rod at the crank and its slope [kg m^2/rad] at crank angles [rad].");
}

void bind_cylinder(py::module_& module) {
  module.def(
      "cylinder_volume",
      [](const Engine& engine, const Angles& angle) {
        const CylinderVolume volume = cylinder_volume(engine);
        return along(angle, [&](double at) { return volume.at(at); });
      },
      py::arg("engine"), py::arg("angle"), "Volume above one piston [m^3] at crank angles [rad].");
  module.def(
      "cylinder_pressure",
      [](const Engine& engine, const Angles& angle, double heat) {
        const CylinderPressure pressure(engine);
        return along(angle, [&](double at) {
          const PressureParts parts = pressure.at(at);
          return parts.open + parts.trapped + heat * parts.per_heat;
        });
      },
      py::arg("engine"), py::arg("angle"), py::arg("heat") = 0.0,
      "Absolute pressure [Pa] in one cylinder at angles [rad] after firing top dead centre; heat [J] of a cycle.");
  module.def(
      "mean_gas_torque",
      [](const Engine& engine, double heat) {
        const CylinderTorque mean = CylinderCycle(engine).mean();
        return mean.open + mean.trapped + heat * mean.fired;
      },
      py::arg("engine"), py::arg("heat") = 0.0,
      "Gas torque [N m] of one cylinder, averaged over its cycle; heat [J] of a cycle.");
  module.def(
      "burnt_fraction",
      [](const Combustion& combustion, const Angles& angle) {
        return along(angle, [burn = wiebe(combustion)](double at) { return wiebe_burnt_fraction(burn, at); });
      },
      py::arg("combustion"), py::arg("angle"), "Share of the heat [-] released at angles [rad].");
  module.def(
      "burn_rate",
      [](const Combustion& combustion, const Angles& angle) {
        return along(angle, [burn = wiebe(combustion)](double at) { return wiebe_burn_rate(burn, at); });
      },
      py::arg("combustion"), py::arg("angle"), "Share of the heat released per angle [1/rad] at angles [rad].");
}

void bind_friction(py::module_& module) {
  module.def("friction_pressure", &friction_pressure, py::arg("friction"), py::arg("stroke"), py::arg("speed"),
             "Mean effective friction pressure [Pa] at a crank speed [rad/s]; stroke [m].");
  module.def(
      "engine_friction_torque",
      [](const Engine& engine, double speed) { return friction_torque(engine).torque(speed); }, py::arg("engine"),
      py::arg("speed"), "Friction torque [N m] of the whole engine at a crank speed [rad/s].");
  module.def(
      "dry_friction_torque",
      [](double friction_torque, double presliding_angle, const Angles& twist) {
        FrictionMemory<double> memory{0.0, twist.size() ? twist.data()[0] : 0.0};
        return along(twist, [&](double at) {
          memory = {slider_twist(presliding_angle, memory, at), at};
          return friction_torque * memory.slider_twist / presliding_angle;
        });
      },
      py::arg("friction_torque"), py::arg("presliding_angle"), py::arg("twist"),
      "Torque [N m] of a damper's dry friction along a path of twists [rad], from rest: elastic up to "
      "presliding_angle [rad] after each reversal, then friction_torque [N m], half of the hysteresis width.");
}

void bind_orders(py::module_& module) {
  module.def("firing_phasor", &firing_phasor, py::arg("order"), py::arg("angles"),
             py::arg("strengths") = std::vector<double>{},
             "Sum over cylinders of strength x exp(i x order x firing angle); angles [rad], strengths [-].");
  module.def(
      "orders",
      [](const std::vector<double>& samples, int revolutions, int highest_order) {
        return to_array(OrderTable(static_cast<int>(samples.size()), revolutions, highest_order).orders(samples));
      },
      py::arg("samples"), py::arg("revolutions") = 2, py::arg("highest_order") = 24,
      "Complex amplitudes of orders 0.5, 1, ... of one cycle of equally spaced samples, in their unit; ValueError "
      "where they are too few for the highest order.");
}

}  // namespace

void bind_parts(py::module_& module) {
  bind_slider_crank(module);
  bind_cylinder(module);
  bind_friction(module);
  bind_orders(module);
}
