// Mass-elastic systems written by hand, struct by struct as in model/mass_elastic.hpp, and their motion in time.
#include "arrays.hpp"
#include "bind.hpp"
#include "calmshaft/simulate/oscillation.hpp"
#include "fields.hpp"

namespace py = pybind11;
using namespace calmshaft;

namespace {

void bind_couplings(py::module_& module) {
  Fields<Contact>(module, "Contact", "Hunt-Crossley contact: stiffness x penetration x (1 + damping_factor x speed).")
      .field("stiffness", &Contact::stiffness, "[N m/rad]")
      .field("damping_factor", &Contact::damping_factor, "[s/rad]")
      .finish();
  Fields<LinearSpring>(module, "LinearSpring", "A spring with viscous damping between two stations.")
      .field("name", &LinearSpring::name, "for people")
      .field("from_station", &LinearSpring::from, "index")
      .field("to_station", &LinearSpring::to, "index, after from_station")
      .field("stiffness", &LinearSpring::stiffness, "[N m/rad]")
      .field("damping", &LinearSpring::damping, "[N m s/rad]")
      .finish();
  Fields<Ramp>(module, "Ramp", "One corner of a piecewise linear torque: slope x max(0, side x twist - corner).")
      .field("side", &Ramp::side, "[-] +1 drive, -1 coast")
      .field("corner", &Ramp::corner, "[rad] twist where it begins")
      .field("slope", &Ramp::slope, "[N m/rad] change of stiffness there")
      .finish();
  Fields<StagedDamper>(module, "StagedDamper", "Stages, dry friction, viscous damping and stops between two stations.")
      .field("name", &StagedDamper::name, "for people")
      .field("from_station", &StagedDamper::from, "index")
      .field("to_station", &StagedDamper::to, "index, after from_station")
      .field("ramps", &StagedDamper::ramps, "tuple of Ramp")
      .field("damping", &StagedDamper::damping, "[N m s/rad]")
      .field("friction_torque", &StagedDamper::friction_torque, "[N m] half of the hysteresis width")
      .field("presliding_angle", &StagedDamper::presliding_angle, "[rad] from rest to sliding")
      .field("drive_stop", &StagedDamper::drive_stop, "[rad]")
      .field("coast_stop", &StagedDamper::coast_stop, "[rad] positive")
      .field("stop", &StagedDamper::stop, "Contact; without stiffness there is no stop")
      .finish();
  Fields<GearMesh>(module, "GearMesh", "Two flanks with a gap between them.")
      .field("name", &GearMesh::name, "for people")
      .field("from_station", &GearMesh::from, "index")
      .field("to_station", &GearMesh::to, "index, after from_station")
      .field("ratio", &GearMesh::ratio, "[-] turns of from_station per turn of to_station, negative where it reverses")
      .field("half_backlash", &GearMesh::half_backlash, "[rad] at from_station")
      .field("contact", &GearMesh::contact, "Contact")
      .finish();
}

void bind_system(py::module_& module) {
  Fields<Station>(module, "Station", "An inertia on its own shaft.")
      .field("name", &Station::name, "for people")
      .field("inertia", &Station::inertia, "[kg m^2]")
      .field("speed_ratio", &Station::speed_ratio, "[-] own speed over that of station 0")
      .finish();
  Fields<SquareLoad>(module, "SquareLoad", "coefficient x (w |w| + extra_damping x |mean w| x (w - mean w)).")
      .field("name", &SquareLoad::name, "for people")
      .field("station", &SquareLoad::station, "index")
      .field("coefficient", &SquareLoad::coefficient, "[N m s^2/rad^2]")
      .field("extra_damping", &SquareLoad::extra_damping, "[-]")
      .finish();
  Fields<Drag>(module, "Drag", "A constant torque against the motion.")
      .field("name", &Drag::name, "for people")
      .field("station", &Drag::station, "index")
      .field("torque", &Drag::torque, "[N m]")
      .finish();
  Fields<MassElastic>(module, "MassElastic", "Stations joined to a tree by couplings and slowed by loads.")
      .field("stations", &MassElastic::stations, "tuple of Station")
      .field("couplings", &MassElastic::couplings, "tuple of LinearSpring, StagedDamper and GearMesh")
      .field("loads", &MassElastic::loads, "tuple of SquareLoad and Drag")
      .finish();
}

py::array_t<double> channels(const std::vector<std::vector<double>>& rows) {
  std::vector<double> all;
  for (const auto& row : rows) all.insert(all.end(), row.begin(), row.end());
  const auto count = static_cast<py::ssize_t>(rows.size());
  const auto nodes = static_cast<py::ssize_t>(rows.empty() ? 0 : rows.front().size());
  return to_array(std::move(all), {count, nodes});
}

py::dict oscillation_dict(const MassElastic& system, double duration, double largest_step, StartMotion start,
                          const SineTorque& torque, double record_from, double relative_tolerance) {
  Oscillation motion;
  {
    const py::gil_scoped_release released;
    AdaptiveOptions options;
    options.relative_tolerance = relative_tolerance;
    options.absolute_tolerance = 1e-3 * relative_tolerance;
    options.largest_step = largest_step;
    motion = oscillate(system, torque, start, duration, record_from, options);
  }
  return py::dict(py::arg("time") = to_array(std::move(motion.time)), py::arg("angle") = channels(motion.angle),
                  py::arg("speed") = channels(motion.speed), py::arg("acceleration") = channels(motion.acceleration),
                  py::arg("twist") = channels(motion.twist), py::arg("torque") = channels(motion.torque),
                  py::arg("work") = channels(motion.work));
}

}  // namespace

void bind_oscillation(py::module_& module) {
  bind_couplings(module);
  bind_system(module);
  module.def(
      "oscillate",
      [](const MassElastic& system, double duration, double largest_step, std::vector<double> angle,
         std::vector<double> speed, double mean, double amplitude, double frequency, double record_from,
         double relative_tolerance) {
        return oscillation_dict(system, duration, largest_step, {std::move(angle), std::move(speed)},
                                {mean, amplitude, frequency}, record_from, relative_tolerance);
      },
      py::arg("system"), py::kw_only(), py::arg("duration"), py::arg("largest_step"), py::arg("angle"),
      py::arg("speed"), py::arg("mean_torque") = 0.0, py::arg("torque_amplitude") = 0.0, py::arg("frequency") = 0.0,
      py::arg("record_from") = 0.0, py::arg("relative_tolerance") = 1e-10,
      "A mass-elastic system in time under mean_torque + torque_amplitude x cos(frequency x time) [N m, rad/s] on "
      "station 0, by controlled steps of at most largest_step [s] from angle [rad] and speed [rad/s] by station. "
      "Gives time [s] of every step from record_from [s] on; angle [rad], speed [rad/s], acceleration [rad/s^2] "
      "(station, time); twist [rad], torque [N m], work [J] (coupling, time), springs first, then dampers, then "
      "meshes. Raises SolveError where the system is no tree or the steps do not reach duration [s].");
}
