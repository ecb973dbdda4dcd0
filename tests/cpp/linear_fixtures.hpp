// Linear lines that several tests ask about.
#pragma once

#include <cmath>
#include <numbers>
#include <vector>

#include "calmshaft/solve/linear_system.hpp"

namespace calmshaft::fixtures {

inline double relative_error(double value, double expected) { return std::fabs(value / expected - 1.0); }

inline LinearAssembler chain(const std::vector<double>& inertias, const std::vector<double>& stiffnesses,
                             double damping = 0.0) {
  LinearAssembler line(static_cast<int>(inertias.size()));
  int station = 0;
  for (const double inertia : inertias) line.add_inertia(station++, inertia);
  int joint = 0;
  for (const double stiffness : stiffnesses) {
    line.add_spring(joint, joint + 1, 1.0, stiffness, damping);
    ++joint;
  }
  return line;
}

// Stiffness of a solid round shaft [N m/rad]: G pi d^4 / (32 L).
inline double shaft_stiffness(double diameter, double length, double shear_modulus) {
  return shear_modulus * std::numbers::pi * std::pow(diameter, 4) / (32.0 * length);
}

// Crank, flywheel, damper plate with pinion, wheel at half speed, propeller in water. Invented data.
inline LinearAssembler damped_launch() {
  LinearAssembler line(5);
  const double inertias[] = {0.06, 0.90, 0.05, 0.25, 1.5};  // [kg m^2]
  for (int station = 0; station < 5; ++station) line.add_inertia(station, inertias[station]);
  line.add_spring(0, 1, 1.0, 22000.0, 2.0);
  line.add_spring(1, 2, 1.0, 6000.0, 8.0);
  line.add_rigid_gear(2, 3, 2.0);
  line.add_spring(3, 4, 1.0, 12000.0, 4.0);
  line.add_ground(4, 0.0, 5.0);
  return line;
}

}  // namespace calmshaft::fixtures
