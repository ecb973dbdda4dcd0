#include "calmshaft/solve/linear_system.hpp"

#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <string>

namespace calmshaft {
namespace {

// Two ways round a loop of gears may differ by rounding of their ratios, not by more.
constexpr double loop_tolerance = 1e-9;

void check_value(const char* part, const char* quantity, double value) {
  if (!(value >= 0.0) || !std::isfinite(value))
    throw std::invalid_argument(std::string(part) + ": " + quantity + " is " + std::to_string(value) +
                                "; write a number that is zero or more");
}

void check_ratio(const char* part, double ratio) {
  if (ratio == 0.0 || !std::isfinite(ratio))
    throw std::invalid_argument(std::string(part) + ": ratio is " + std::to_string(ratio) +
                                "; write turns of the first station per turn of the second, not zero");
}

}  // namespace

LinearAssembler::LinearAssembler(int stations) {
  if (stations < 1)
    throw std::invalid_argument("linear system: " + std::to_string(stations) + " stations; write 1 or more");
  for (int station = 0; station < stations; ++station) followers_.push_back({station, 1.0});
  inertia_ = damping_ = stiffness_ = Eigen::MatrixXd::Zero(stations, stations);
}

void LinearAssembler::check(const char* part, int station) const {
  const int stations = static_cast<int>(followers_.size());
  if (station < 0 || station >= stations)
    throw std::invalid_argument(std::string(part) + ": there is no station " + std::to_string(station) +
                                "; write 0 to " + std::to_string(stations - 1));
}

void LinearAssembler::add_inertia(int station, double inertia) {
  check("inertia", station);
  check_value("inertia", "inertia [kg m^2]", inertia);
  inertia_(station, station) += inertia;
}

void LinearAssembler::add_spring(int from, int to, double ratio, double stiffness, double damping) {
  check("spring", from);
  check("spring", to);
  if (from == to)
    throw std::invalid_argument("spring: both ends are station " + std::to_string(to) +
                                "; write two stations, or a spring to the ground");
  check_ratio("spring", ratio);
  check_value("spring", "stiffness [N m/rad]", stiffness);
  check_value("spring", "damping [N m s/rad]", damping);
  Eigen::VectorXd twist = Eigen::VectorXd::Zero(inertia_.rows());  // twist per station angle
  twist(from) = 1.0;
  twist(to) = -ratio;
  stiffness_ += stiffness * twist * twist.transpose();
  damping_ += damping * twist * twist.transpose();
}

void LinearAssembler::add_ground(int station, double stiffness, double damping) {
  check("ground", station);
  check_value("ground", "stiffness [N m/rad]", stiffness);
  check_value("ground", "damping [N m s/rad]", damping);
  stiffness_(station, station) += stiffness;
  damping_(station, station) += damping;
}

// With angle(from) = f_a q_a and angle(to) = f_b q_b: q_b = f_a / (ratio f_b) q_a.
void LinearAssembler::add_rigid_gear(int from, int to, double ratio) {
  check("gear", from);
  check("gear", to);
  check_ratio("gear", ratio);
  const Follower driving = followers_[static_cast<std::size_t>(from)];
  const Follower driven = followers_[static_cast<std::size_t>(to)];
  const double scale = driving.factor / (ratio * driven.factor);
  if (driving.leader == driven.leader) {
    if (std::fabs(scale - 1.0) > loop_tolerance)
      throw std::invalid_argument("gear: stations " + std::to_string(from) + " and " + std::to_string(to) +
                                  " are already joined by gears with another ratio, so nothing could turn; "
                                  "write " +
                                  std::to_string(driving.factor / driven.factor));
    return;
  }
  for (Follower& follower : followers_)
    if (follower.leader == driven.leader) follower = {driving.leader, follower.factor * scale};
}

void LinearAssembler::fix(int station) {
  check("fixed station", station);
  fixed_.push_back(station);
}

Eigen::MatrixXd LinearAssembler::expansion() const {
  const auto stations = static_cast<Eigen::Index>(followers_.size());
  Eigen::MatrixXd by_leader = Eigen::MatrixXd::Zero(stations, stations);
  for (Eigen::Index station = 0; station < stations; ++station) {
    const Follower& follower = followers_[static_cast<std::size_t>(station)];
    by_leader(station, follower.leader) = follower.factor;
  }
  for (const int station : fixed_)
    by_leader.col(followers_[static_cast<std::size_t>(station)].leader).setZero();

  std::vector<Eigen::Index> free;
  for (Eigen::Index column = 0; column < stations; ++column)
    if (!by_leader.col(column).isZero(0.0)) free.push_back(column);
  if (free.empty()) throw std::invalid_argument("linear system: every station is fixed; leave one free");
  return by_leader(Eigen::all, free);
}

LinearSystem LinearAssembler::system() const {
  const Eigen::MatrixXd all = expansion();
  return {all.transpose() * inertia_ * all, all.transpose() * damping_ * all,
          all.transpose() * stiffness_ * all, all};
}

}  // namespace calmshaft
