// The same line in time form under step control: the second way to every steady answer.
#pragma once

#include <vector>

#include "calmshaft/simulate/steady.hpp"
#include "calmshaft/solve/time_stepping.hpp"

namespace calmshaft {

struct TimeHistory {
  AdaptiveStats stats;
  std::vector<double> time;                 // [s] at every accepted step
  std::vector<double> crank_angle;          // [rad]
  std::vector<std::vector<double>> torque;  // [N m] (coupling, node)
  std::vector<std::vector<double>> twist;   // [rad] (coupling, node)
};

// Runs `cycles` engine cycles on from the linear start with the fuelling held, by controlled Dormand-Prince steps,
// and keeps the last `kept` of them. `fuelling` [-] as a steady result found it.
TimeHistory time_history(const PreparedLine& line, const Condition& condition, double fuelling, int cycles, int kept,
                         double relative_tolerance = 1e-8);

}  // namespace calmshaft
