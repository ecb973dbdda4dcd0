#include "calmshaft/solve/forced_response.hpp"

#include <Eigen/QR>
#include <cmath>
#include <complex>
#include <stdexcept>
#include <string>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/solve/linear_response.hpp"
#include "calmshaft/solve/modes.hpp"

namespace calmshaft {
namespace {

using Complex = std::complex<double>;
using Eigen::Index;
using Eigen::VectorXcd;

// So near to a natural frequency, with so little damping, an amplitude is rounding and no answer.
constexpr double resonance_tolerance = 1e-9;  // [-] of the frequency, and of the damping ratio

template <class Angles>
auto twist(const LinearJoint& joint, const Angles& angle) {
  return angle(joint.from) - joint.ratio * angle(joint.to);
}

// Sum of c |rate|^2 / omega^2 over all dampers [N m s/rad rad^2]: half of it times omega^2 is the power lost.
template <class Angles>
double damping_sum(const LinearLine& line, const Angles& angle) {
  double sum = 0.0;
  for (const LinearJoint& joint : line.joints)
    if (!joint.rigid) sum += joint.damping * std::norm(twist(joint, angle));
  for (std::size_t station = 0; station < line.ground_damping.size(); ++station)
    sum += line.ground_damping[station] * std::norm(angle(static_cast<Index>(station)));
  return sum;
}

double inertia_sum(const LinearLine& line, const Eigen::VectorXd& shape) {
  return Eigen::Map<const Eigen::VectorXd>(line.inertia.data(), shape.size()).dot(shape.cwiseAbs2());
}

// What keeps a resonance from having a steady answer, found once for all frequencies asked.
class Resonances {
 public:
  explicit Resonances(const LinearLine& line, const LinearSystem& system) : modes_(modes(system)) {
    for (const auto& shape : modes_.shapes.colwise())
      decay_.push_back(damping_sum(line, shape) / inertia_sum(line, shape));
  }

  void refuse(double omega) const {
    for (Index mode = 0; mode < modes_.angular_frequency.size(); ++mode) {
      const double natural = modes_.angular_frequency(mode);
      const bool near = std::fabs(omega - natural) <= resonance_tolerance * natural;
      if (!near || omega * decay_[static_cast<std::size_t>(mode)] > resonance_tolerance * omega * omega) continue;
      if (natural == 0.0)
        throw SolveError(
            "response: no steady answer at 0 rad/s; the line turns freely and a constant torque is "
            "never balanced: hold a station, or ask above 0");
      throw SolveError("response: no steady answer at " + std::to_string(omega) + " rad/s; this is the natural " +
                       "frequency of mode " + std::to_string(mode) +
                       " (counted from 0) and nothing damps it: ask beside it, or give the joints damping");
    }
  }

 private:
  Modes modes_;
  std::vector<double> decay_;  // [1/s] damping over inertia of each mode
};

// A spring's torque follows from its twist: (k + i omega c) twist.
Complex spring_torque(const LinearJoint& joint, double omega, const VectorXcd& angle) {
  return Complex(joint.stiffness, omega * joint.damping) * twist(joint, angle);
}

// Torque that each station must shed through its gears: applied - ground + omega^2 J angle - springs.
VectorXcd left_for_gears(const LinearLine& line, double omega, const VectorXcd& angle, const VectorXcd& applied) {
  VectorXcd left = applied;
  for (Index station = 0; station < left.size(); ++station) {
    const auto at = static_cast<std::size_t>(station);
    const Complex ground(line.ground_stiffness[at], omega * line.ground_damping[at]);
    left(station) += (omega * omega * line.inertia[at] - ground) * angle(station);
  }
  for (const LinearJoint& joint : line.joints) {
    if (joint.rigid) continue;
    const Complex torque = spring_torque(joint, omega, angle);
    left(joint.from) -= torque;
    left(joint.to) += joint.ratio * torque;
  }
  for (const int station : line.fixed) left(station) = 0.0;  // what holds it takes the rest
  return left;
}

// How the torque of each rigid gear pair acts on the stations: +1 taken at `from`, ratio given at `to`.
Eigen::MatrixXd gear_incidence(const LinearLine& line) {
  Eigen::MatrixXd incidence(line.inertia.size(), 0);
  for (const LinearJoint& joint : line.joints) {
    if (!joint.rigid) continue;
    incidence.conservativeResize(Eigen::NoChange, incidence.cols() + 1);
    incidence.rightCols(1).setZero();
    incidence(joint.from, incidence.cols() - 1) = 1.0;
    incidence(joint.to, incidence.cols() - 1) = -joint.ratio;
  }
  for (const int station : line.fixed) incidence.row(station).setZero();
  return incidence;
}

// Joint torques of one frequency: springs by their twist, rigid gears by the balance of their stations.
class JointTorques {
 public:
  explicit JointTorques(const LinearLine& line) : line_(line) {
    const Eigen::MatrixXd incidence = gear_incidence(line);
    count_ = incidence.cols();
    if (count_ == 0) return;  // Eigen has no decomposition without columns
    gears_.compute(incidence);
    if (gears_.rank() < count_)
      throw SolveError(
          "response: stations held at both ends of rigid gears share the torque in no way that "
          "can be told; hold one of them");
  }

  VectorXcd at(double omega, const VectorXcd& angle, const VectorXcd& applied) const {
    VectorXcd gear_torque(count_);
    if (count_ > 0) {
      const VectorXcd left = left_for_gears(line_, omega, angle, applied);
      gear_torque.real() = gears_.solve(left.real());
      gear_torque.imag() = gears_.solve(left.imag());
    }
    VectorXcd torque(line_.joints.size());
    Index gear = 0, next = 0;
    for (const LinearJoint& joint : line_.joints)
      torque(next++) = joint.rigid ? gear_torque(gear++) : spring_torque(joint, omega, angle);
    return torque;
  }

 private:
  const LinearLine& line_;
  Index count_;
  Eigen::ColPivHouseholderQR<Eigen::MatrixXd> gears_;
};

}  // namespace

ForcedResponse forced_response(const LinearLine& line, const Eigen::VectorXd& omega, const Eigen::MatrixXcd& torque) {
  const auto stations = static_cast<Index>(line.inertia.size());
  if (torque.rows() != omega.size() || torque.cols() != stations)
    throw std::invalid_argument("forced response: write one torque for every frequency and station");
  const LinearSystem system = linear_system(line);
  const Resonances resonances(line, system);
  const JointTorques joints(line);
  ForcedResponse found{Eigen::MatrixXcd(omega.size(), stations),
                       Eigen::MatrixXcd(omega.size(), static_cast<Index>(line.joints.size())),
                       Eigen::VectorXd(omega.size()), Eigen::VectorXd(omega.size())};
  for (Index i = 0; i < omega.size(); ++i) {
    const double w = omega(i);
    const VectorXcd applied = torque.row(i).transpose();
    resonances.refuse(w);
    const VectorXcd angle = response(system, w, applied);
    found.angle.row(i) = angle.transpose();
    found.torque.row(i) = joints.at(w, angle, applied).transpose();
    found.power_in(i) = 0.5 * (Complex(0.0, w) * applied.dot(angle)).real();  // Re[T conj(i w angle)] / 2
    found.power_dissipated(i) = 0.5 * w * w * damping_sum(line, angle);
  }
  return found;
}

}  // namespace calmshaft
