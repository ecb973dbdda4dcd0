#include "calmshaft/solve/linear_response.hpp"

#include <doctest/doctest.h>

#include <complex>
#include <stdexcept>

#include "calmshaft/core/errors.hpp"
#include "linear_fixtures.hpp"

using namespace calmshaft;
using fixtures::chain;
using fixtures::relative_error;
using namespace std::complex_literals;

namespace {

constexpr double rounding = 1e-8;  // relative: the references carry ten digits

// Torque amplitude in the spring of two inertias when 10 N m swings on the first [N m].
std::complex<double> spring_torque(double damping, double omega) {
  const LinearSystem system = chain({0.5, 0.1}, {1000.0}, damping).system();
  const Eigen::VectorXcd angle = response(system, omega, Eigen::Vector2cd(10.0, 0.0));
  return (1000.0 + 1i * omega * damping) * (angle(0) - angle(1));
}

}  // namespace

TEST_CASE("without damping the shaft torque follows T0 k / (J1 (wn^2 - w^2))") {
  // Source: closed form; towards zero frequency T0 J2 / (J1 + J2).
  CHECK(relative_error(spring_torque(0.0, 50.0).real(), 2.105263158) < rounding);
  CHECK(relative_error(spring_torque(0.0, 100.0).real(), 10.0) < rounding);
  CHECK(relative_error(spring_torque(0.0, 150.0).real(), -1.904761905) < rounding);
  CHECK(relative_error(spring_torque(0.0, 0.01).real(), 10.0 / 6.0) < rounding);
}

TEST_CASE("with a damper beside the spring the shaft torque stays finite at resonance") {
  // Source: closed form of two inertias with spring and damper in parallel.
  CHECK(relative_error(std::abs(spring_torque(0.5, 50.0)), 2.104871691) < rounding);
  CHECK(relative_error(std::abs(spring_torque(0.5, std::sqrt(12000.0))), 30.474640338) < rounding);
  CHECK(relative_error(std::abs(spring_torque(0.5, 150.0)), 1.903133227) < rounding);
}

TEST_CASE("the damped launch answers 100 N m at the crank as computed elsewhere and loses what it takes in") {
  // Source: derived; the same line solved by a separate numerical program. 1e-8: nine printed digits.
  struct Expected {
    double omega, crank_angle, damper, mesh, propeller_shaft, crank_shaft, power;
  };
  const Expected cases[] = {
      {40.0, 0.0337661017, 41.9657538, 76.7512359, 67.7847176, 96.7632549, 3.6140461},
      {120.0, 0.00501676783, 25.9688377, 59.1671507, 68.2296575, 95.6826142, 2.6129254},
  };
  const LinearSystem system = fixtures::damped_launch().system();
  Eigen::VectorXcd torque = Eigen::VectorXcd::Zero(5);
  torque(0) = 100.0;
  for (const Expected& expected : cases) {
    const double w = expected.omega;
    const Eigen::VectorXcd angle = response(system, w, torque);
    const auto joint = [&](double k, double c, int from) {
      return (k + 1i * w * c) * (angle(from) - angle(from + 1));
    };
    const auto lost = [&](double c, std::complex<double> twist) {
      return 0.5 * c * w * w * std::norm(twist);
    };
    const std::complex<double> propeller_shaft = joint(12000.0, 4.0, 3);
    const std::complex<double> mesh = propeller_shaft - w * w * 0.25 * angle(3);  // wheel side
    const double power_in = 0.5 * (100.0 * std::conj(1i * w * angle(0))).real();
    const double dissipated = lost(2.0, angle(0) - angle(1)) + lost(8.0, angle(1) - angle(2)) +
                              lost(4.0, angle(3) - angle(4)) + lost(5.0, angle(4));
    CHECK(relative_error(std::abs(angle(0)), expected.crank_angle) < rounding);
    CHECK(relative_error(std::abs(joint(22000.0, 2.0, 0)), expected.crank_shaft) < rounding);
    CHECK(relative_error(std::abs(joint(6000.0, 8.0, 1)), expected.damper) < rounding);
    CHECK(relative_error(std::abs(mesh), expected.mesh) < rounding);
    CHECK(relative_error(std::abs(propeller_shaft), expected.propeller_shaft) < rounding);
    CHECK(relative_error(power_in, expected.power) < 2e-8);  // eight printed digits
    CHECK(relative_error(dissipated, power_in) < 1e-11);     // energy is kept: rounding only
    CHECK(std::abs(angle(2) - 2.0 * angle(3)) < 1e-15);      // rigid gear
  }
}

TEST_CASE("a constant torque on a free line and a torque list of the wrong length are refused") {
  const LinearSystem free_line = chain({0.5, 0.1}, {1000.0}).system();
  CHECK_THROWS_WITH_AS(response(free_line, 0.0, Eigen::Vector2cd(1.0, 0.0)),
                       doctest::Contains("no steady answer"), SolveError);
  CHECK_THROWS_WITH_AS(response(free_line, 1.0, Eigen::Vector3cd(1.0, 0.0, 0.0)),
                       doctest::Contains("3 torques for 2 stations"), std::invalid_argument);
}
