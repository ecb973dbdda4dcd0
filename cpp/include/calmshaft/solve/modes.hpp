// Natural frequencies, mode shapes and damped poles of a linear system.
#pragma once

#include <Eigen/Core>

#include "calmshaft/solve/linear_system.hpp"

namespace calmshaft {

struct Modes {
  Eigen::VectorXd angular_frequency;  // [rad/s] undamped, ascending; the rigid body first, as 0
  Eigen::MatrixXd shapes;             // [rad/rad] (station, mode) own-shaft angles, the largest = 1
  // [rad/s] with damping, by |imaginary part|, then by real part; negative real part = dies away.
  // The angle of a rigid body, which nothing brings back, has no pole here; its speed has one.
  Eigen::VectorXcd poles;
};

// Throws SolveError when a station without inertia is held by no spring, or an inertia is negative.
Modes modes(const LinearSystem& system);

}  // namespace calmshaft
