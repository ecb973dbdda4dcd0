// A linear line shaken at one frequency after another: angles, the torque in every joint, and where the power goes.
#pragma once

#include <Eigen/Core>

#include "calmshaft/solve/linear_line.hpp"

namespace calmshaft {

// Complex amplitudes; the real value is Re[amplitude e^(i omega t)].
struct ForcedResponse {
  Eigen::MatrixXcd angle;            // [rad] (omega, station) own-shaft angles
  Eigen::MatrixXcd torque;           // [N m] (omega, joint) on the shaft of the joint's `from`
  Eigen::VectorXd power_in;          // [W] mean over a swing, of all applied torques
  Eigen::VectorXd power_dissipated;  // [W] mean over a swing, in all dampers; equals power_in but for rounding
};

// Answer to torques [N m] (omega, station) at the frequencies omega [rad/s].
// Throws SolveError at a resonance that nothing damps and at a constant torque on a line that turns freely.
ForcedResponse forced_response(const LinearLine& line, const Eigen::VectorXd& omega, const Eigen::MatrixXcd& torque);

}  // namespace calmshaft
