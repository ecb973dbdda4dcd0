#include "calmshaft/solve/linear_response.hpp"

#include <Eigen/LU>
#include <complex>
#include <limits>
#include <stdexcept>
#include <string>

#include "calmshaft/core/errors.hpp"

namespace calmshaft {

Eigen::VectorXcd response(const LinearSystem& system, double omega, const Eigen::VectorXcd& torque) {
  const Eigen::Index stations = system.expansion.rows();
  if (torque.size() != stations)
    throw std::invalid_argument("response: " + std::to_string(torque.size()) + " torques for " +
                                std::to_string(stations) + " stations; write one for each, 0 where none acts");
  Eigen::MatrixXcd dynamic_stiffness(system.inertia.rows(), system.inertia.cols());  // [N m/rad]
  dynamic_stiffness.real() = system.stiffness - omega * omega * system.inertia;
  dynamic_stiffness.imag() = omega * system.damping;
  const Eigen::PartialPivLU<Eigen::MatrixXcd> solver(dynamic_stiffness);
  if (!(solver.rcond() > std::numeric_limits<double>::epsilon()))
    throw SolveError("response: no steady answer at " + std::to_string(omega) +
                     " rad/s; the line is free or in resonance without damping there");
  const Eigen::VectorXcd coordinates = solver.solve(system.expansion.transpose() * torque);
  return system.expansion * coordinates;
}

}  // namespace calmshaft
