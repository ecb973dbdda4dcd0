// A line for linear questions: stations with inertia, joined by springs or rigid gears, held to the ground.
// Every value is in its own shaft's frame, so that a joint can say which torque it carries.
#pragma once

#include <vector>

#include "calmshaft/solve/linear_system.hpp"

namespace calmshaft {

struct LinearJoint {
  int from;
  int to;
  double ratio;      // [-] twist = angle(from) - ratio * angle(to)
  double stiffness;  // [N m/rad] at `from`; means nothing where rigid
  double damping;    // [N m s/rad] at `from`; means nothing where rigid
  bool rigid;        // teeth that neither bend nor open
};

struct LinearLine {
  explicit LinearLine(std::size_t stations) : inertia(stations), ground_stiffness(stations), ground_damping(stations) {}

  std::vector<double> inertia;           // [kg m^2] of every station
  std::vector<double> ground_stiffness;  // [N m/rad] of every station
  std::vector<double> ground_damping;    // [N m s/rad] of every station
  std::vector<LinearJoint> joints;
  std::vector<int> fixed;  // stations that are held still
};

// The line's matrices. Throws std::invalid_argument as LinearAssembler does.
LinearSystem linear_system(const LinearLine& line);

}  // namespace calmshaft
