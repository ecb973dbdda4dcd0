// A mass-elastic system by itself in time, without engine: swinging freely, or shaken by one sine torque.
// The motions that books give answers to; the equations and the stepper are those of whole lines.
#pragma once

#include <vector>

#include "calmshaft/model/mass_elastic.hpp"
#include "calmshaft/solve/time_stepping.hpp"

namespace calmshaft {

// mean + amplitude * cos(frequency * time), on station 0.
struct SineTorque {
  double mean = 0;       // [N m]
  double amplitude = 0;  // [N m]
  double frequency = 0;  // [rad/s]
};

// At time 0, by station, each in its own shaft's frame. Dry friction starts without torque.
struct StartMotion {
  std::vector<double> angle;  // [rad]
  std::vector<double> speed;  // [rad/s]
};

// At every accepted step from the time that was asked for.
struct Oscillation {
  std::vector<double> time;                       // [s]
  std::vector<std::vector<double>> angle;         // [rad] (station, node)
  std::vector<std::vector<double>> speed;         // [rad/s] (station, node)
  std::vector<std::vector<double>> acceleration;  // [rad/s^2] (station, node)
  std::vector<std::vector<double>> twist;         // [rad] (coupling, node): springs, dampers, meshes
  std::vector<std::vector<double>> torque;        // [N m] (coupling, node)
  std::vector<std::vector<double>> work;          // [J] done on the coupling since time 0 (coupling, node)
};

// From time 0 to `duration` [s], kept from `record_from` [s]. Throws SolveError where the system is no tree as
// mass_elastic.hpp describes it, a speed ratio contradicts a coupling, or the stepper does not reach the end.
Oscillation oscillate(const MassElastic& system, const SineTorque& torque, const StartMotion& start, double duration,
                      double record_from, const AdaptiveOptions& options);

}  // namespace calmshaft
