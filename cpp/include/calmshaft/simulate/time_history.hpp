// The same line in time form under step control: the second way to every steady answer.
#pragma once

#include <optional>
#include <vector>

#include "calmshaft/simulate/steady.hpp"
#include "calmshaft/solve/time_stepping.hpp"

namespace calmshaft {

// What a cycle's record shows at its first node, crank angle 0. The plate's torque tells the memory of its friction.
struct TimeStart {
  std::vector<double> speed;   // [rad/s] (station)
  std::vector<double> twist;   // [rad] (coupling)
  std::vector<double> torque;  // [N m] (coupling)
};

struct TimeOptions {
  int cycles = 60;                     // engine cycles to run
  int kept = 1;                        // the last of them that are written down
  double relative_tolerance = 1e-8;    // [-]
  std::optional<double> held_speed{};  // [rad/s] mean crank speed that the fuelling is trimmed to hold; else it stays
  std::optional<TimeStart> start{};    // else the linear start
};

struct TimeHistory {
  AdaptiveStats stats;
  std::vector<double> time;                 // [s] at every accepted step
  std::vector<double> crank_angle;          // [rad]
  std::vector<std::vector<double>> torque;  // [N m] (coupling, node)
  std::vector<std::vector<double>> twist;   // [rad] (coupling, node)
  std::vector<double> fuelling;             // [-] during each cycle
  double crank_speed = 0;                   // [rad/s] at the end
};

// Runs on in time by controlled Dormand-Prince steps. `fuelling` [-] as a steady result found it. Where the engine
// stalls, or the budget ends first, fewer cycles are kept.
TimeHistory time_history(const PreparedLine& line, const Condition& condition, double fuelling,
                         const TimeOptions& options = {});

}  // namespace calmshaft
