// The line at its mean: torque through every coupling, the twist that carries it, what the engine must give.
#pragma once

#include <vector>

#include "calmshaft/model/model.hpp"

namespace calmshaft {

struct MeanState {
  std::vector<double> coupling_torque;     // [N m] at `from`
  std::vector<double> coupling_twist;      // [rad]
  std::vector<double> coupling_stiffness;  // [N m/rad] slope there; contacts closed
  std::vector<double> coupling_damping;    // [N m s/rad]
  double resistance = 0;        // [N m] all loads and engine friction, at the crank
  double resistance_slope = 0;  // [N m s/rad] by crank speed
};

// Mean state at a crank speed [rad/s].
MeanState mean_state(const Model& model, double crank_speed);

// Least stiffness of any stage, free play aside [N m/rad]; infinite without stages.
double softest_stage(const Model::Damper& damper);

}  // namespace calmshaft
