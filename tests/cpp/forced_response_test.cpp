#include "calmshaft/solve/forced_response.hpp"

#include <doctest/doctest.h>

#include <complex>
#include <stdexcept>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/solve/chain.hpp"
#include "linear_fixtures.hpp"

using namespace calmshaft;
using fixtures::relative_error;

namespace {

// Two stations, a gear pair at half speed, two stations.
LinearLine geared(std::vector<int> fixed = {}) {
  return linear_line({{"a", "b", "c", "d"},
                      {0.5, 0.02, 0.3, 1.0},
                      {4000.0, std::nullopt, 9000.0},
                      {2.0, 0.0, 3.0},
                      {1.0, 1.0, 0.5, 0.5},
                      {},
                      {0.0, 0.0, 0.0, 1.5},
                      std::move(fixed)});
}

ForcedResponse at_one(const LinearLine& line, double omega, int station, double torque = 100.0) {
  Eigen::MatrixXcd applied = Eigen::MatrixXcd::Zero(1, static_cast<Eigen::Index>(line.inertia.size()));
  applied(0, station) = torque;
  return forced_response(line, Eigen::VectorXd::Constant(1, omega), applied);
}

}  // namespace

TEST_CASE("the torque between rigid gears balances the wheel on either side") {
  const double w = 70.0;
  const ForcedResponse found = at_one(geared(), w, 0);
  // driving side: spring torque + w^2 J angle of the pinion; wheel side: twice that torque less the wheel's inertia
  const std::complex<double> from_pinion = found.torque(0, 0) + w * w * 0.02 * found.angle(0, 1);
  const std::complex<double> from_wheel = (found.torque(0, 2) - w * w * 0.3 * found.angle(0, 2)) / 2.0;
  CHECK(std::abs(found.torque(0, 1) - from_pinion) < 1e-12 * std::abs(from_pinion));
  CHECK(std::abs(found.torque(0, 1) - from_wheel) < 1e-12 * std::abs(from_wheel));
}

TEST_CASE("gears next to a station that is held carry what the free side sends") {
  // at 0 rad/s all of the torque reaches the ground, doubled on the slow shaft
  const ForcedResponse held_wheel = at_one(geared({2}), 0.0, 0);
  CHECK(relative_error(held_wheel.torque(0, 1).real(), 100.0) < 1e-12);
  const ForcedResponse held_pinion = at_one(geared({1}), 0.0, 3);
  CHECK(relative_error(held_pinion.torque(0, 1).real(), -50.0) < 1e-12);
}

TEST_CASE("power put in is lost in the dampers") {
  for (const double w : {5.0, 60.0, 400.0}) {
    const ForcedResponse found = at_one(geared(), w, 0);
    CHECK(found.power_in(0) > 0.0);
    CHECK(relative_error(found.power_dissipated(0), found.power_in(0)) < 1e-10);  // rounding
  }
}

TEST_CASE("a resonance that nothing damps has no steady answer, and the message says which") {
  const LinearLine line = linear_line({{"a", "b"}, {0.5, 0.1}, {1000.0}, {}, {}, {}, {}, {}});
  CHECK_THROWS_WITH_AS(at_one(line, std::sqrt(12000.0), 0), doctest::Contains("mode 1"), SolveError);
  CHECK_THROWS_WITH_AS(at_one(line, 0.0, 0), doctest::Contains("turns freely"), SolveError);
  CHECK(relative_error(at_one(line, 100.0, 0, 10.0).torque(0, 0).real(), 10.0) < 1e-12);  // T0 k / (J1 (wn^2 - w^2))
}

TEST_CASE("gears held at both ends and torques that do not fit are refused") {
  CHECK_THROWS_WITH_AS(at_one(geared({1, 2}), 10.0, 0), doctest::Contains("both ends"), SolveError);
  CHECK_THROWS_AS(forced_response(geared(), Eigen::VectorXd::Ones(2), Eigen::MatrixXcd::Zero(1, 4)),
                  std::invalid_argument);
}
