// Steady answer of a linear system to torques that swing at one frequency.
#pragma once

#include <Eigen/Core>

#include "calmshaft/solve/linear_system.hpp"

namespace calmshaft {

// Complex angle amplitude of every station [rad] for complex torque amplitudes [N m] on every station,
// both in own-shaft frames, omega [rad/s]: (stiffness - omega^2 inertia + i omega damping) q = torque,
// real angle = Re[q e^(i omega t)].
// Throws std::invalid_argument when `torque` does not have one entry a station, and SolveError where
// no steady answer exists (resonance without damping, or a constant torque on a free line).
Eigen::VectorXcd response(const LinearSystem& system, double omega, const Eigen::VectorXcd& torque);

}  // namespace calmshaft
