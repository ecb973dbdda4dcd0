#include "calmshaft/solve/modes.hpp"

#include <doctest/doctest.h>

#include <Eigen/LU>
#include <Eigen/SVD>
#include <complex>
#include <numbers>

#include "calmshaft/core/errors.hpp"
#include "linear_fixtures.hpp"

using namespace calmshaft;
using fixtures::chain;
using fixtures::relative_error;

namespace {

constexpr double closed_form = 1e-9;  // relative: rounding of a small eigenproblem, with room
constexpr double pi = std::numbers::pi;

double hertz(double angular_frequency) { return angular_frequency / (2.0 * pi); }

// Shape of a mode with the motion of the first station set to 1.
Eigen::VectorXd from_first(const Modes& modes, Eigen::Index mode) {
  return modes.shapes.col(mode) / modes.shapes(0, mode);
}

}  // namespace

TEST_CASE("two inertias swing at the root of k (J1 + J2) / (J1 J2)") {
  // Source: closed form.
  const Modes found = modes(chain({0.5, 0.1}, {1000.0}).system());
  CHECK(found.angular_frequency(0) == 0.0);
  CHECK(relative_error(found.angular_frequency(1), 109.544511501) < closed_form);
  CHECK(from_first(found, 1)(1) == doctest::Approx(-5.0).epsilon(closed_form));  // J1 x1 + J2 x2 = 0
}

TEST_CASE("three inertias agree with the roots of the quadratic in the square of the frequency") {
  // Source: closed form, w^4 - [k1(1/J1+1/J2)+k2(1/J2+1/J3)] w^2 + k1 k2 (J1+J2+J3)/(J1 J2 J3) = 0.
  const Modes found = modes(chain({0.2, 0.1, 0.4}, {2000.0, 5000.0}).system());
  CHECK(found.angular_frequency(0) == 0.0);
  CHECK(relative_error(found.angular_frequency(1), 103.423127813) < closed_form);
  CHECK(relative_error(found.angular_frequency(2), 286.013385409) < closed_form);
}

TEST_CASE("a free chain of n equal discs has the frequencies 2 sin(j pi / 2n)") {
  // Source: closed form.
  for (const int n : {3, 5, 12}) {
    const auto count = static_cast<std::size_t>(n);
    const Modes found = modes(chain(std::vector(count, 1.0), std::vector(count - 1, 1.0)).system());
    CHECK(found.angular_frequency(0) == 0.0);
    for (int j = 1; j < n; ++j)
      CHECK(relative_error(found.angular_frequency(j), 2.0 * std::sin(j * pi / (2.0 * n))) < closed_form);
  }
}

TEST_CASE("a chain held at one end has the frequencies 2 sin((2j - 1) pi / (2 (2n + 1)))") {
  // Source: closed form.
  LinearAssembler line = chain({1.0, 1.0, 1.0, 1.0, 1.0}, {1.0, 1.0, 1.0, 1.0});
  line.fix(0);
  const Modes found = modes(line.system());
  const double expected[] = {0.3472963553, 1.0, 1.5320888862, 1.8793852416};
  REQUIRE(found.angular_frequency.size() == 4);
  for (int j = 0; j < 4; ++j) CHECK(relative_error(found.angular_frequency(j), expected[j]) < closed_form);
}

TEST_CASE("three discs between two held ends match the printed frequencies and shapes") {
  // Source: Rao, Mechanical Vibrations (SI edition), worked problem, printed 0.7654, 1.4142, 1.8480 (the
  // last one is rounded wrongly there: 1.84776); exact values from 2 sin(j pi / (2 (n + 1))).
  LinearAssembler line = chain({1.0, 1.0, 1.0}, {1.0, 1.0});
  line.add_ground(0, 1.0, 0.0);
  line.add_ground(2, 1.0, 0.0);
  const Modes found = modes(line.system());
  const double printed[] = {0.7654, 1.4142, 1.8480};
  const double exact[] = {0.7653668647, 1.4142135624, 1.8477590650};
  for (int j = 0; j < 3; ++j) {
    CHECK(found.angular_frequency(j) == doctest::Approx(printed[j]).epsilon(2e-4));  // print
    CHECK(relative_error(found.angular_frequency(j), exact[j]) < closed_form);
  }
  CHECK(from_first(found, 0).isApprox(Eigen::Vector3d(1.0, std::sqrt(2.0), 1.0), closed_form));
  CHECK(from_first(found, 1).isApprox(Eigen::Vector3d(1.0, 0.0, -1.0), closed_form));
  CHECK(from_first(found, 2).isApprox(Eigen::Vector3d(1.0, -std::sqrt(2.0), 1.0), closed_form));
}

TEST_CASE("the oil engine with flywheel and pump has the printed frequencies and nodes") {
  // Source: Khurmi & Gupta, Theory of Machines, worked example of torsional vibration: 171 and 277 Hz, one
  // node 1.146 m from A, two nodes 0.4356 m from A and 0.726 m from C. Printed digits hold to 0.3 %.
  const double first = fixtures::shaft_stiffness(0.070, 1.5, 84e9);
  const double second = fixtures::shaft_stiffness(0.070, 1.0, 84e9);
  const Modes found = modes(chain({0.15, 0.30, 0.09}, {first, second}).system());
  CHECK(relative_error(hertz(found.angular_frequency(1)), 171.0) < 3e-3);
  CHECK(relative_error(hertz(found.angular_frequency(2)), 277.0) < 3e-3);
  CHECK(relative_error(hertz(found.angular_frequency(1)), 170.6877) < 1e-6);  // recomputed, 7 digits
  CHECK(relative_error(hertz(found.angular_frequency(2)), 277.0340) < 1e-6);

  const Eigen::VectorXd one_node = from_first(found, 1);
  const Eigen::VectorXd two_nodes = from_first(found, 2);
  const double from_a = 1.5 / (1.0 - two_nodes(1));
  const double from_c = 1.0 / (1.0 - two_nodes(1) / two_nodes(2));
  CHECK(relative_error(1.5 / (1.0 - one_node(1)), 1.146) < 3e-3);
  CHECK(relative_error(from_a, 0.4356) < 3e-3);
  CHECK(relative_error(from_c, 0.726) < 3e-3);
  CHECK(one_node.isApprox(Eigen::Vector3d(1.0, -0.307000, -0.643335), 1e-6));
  CHECK(two_nodes.isApprox(Eigen::Vector3d(1.0, -2.443000, 6.476668), 1e-6));
}

TEST_CASE("doubling every inertia lowers every frequency by the root of two") {
  // Source: a student's problem with the shafts of the example above; value 120.6944 and 195.8926 Hz by
  // scaling.
  const double first = fixtures::shaft_stiffness(0.070, 1.5, 84e9);
  const double second = fixtures::shaft_stiffness(0.070, 1.0, 84e9);
  const Modes found = modes(chain({0.3, 0.6, 0.18}, {first, second}).system());
  CHECK(relative_error(hertz(found.angular_frequency(1)), 120.6944) < 1e-6);
  CHECK(relative_error(hertz(found.angular_frequency(2)), 195.8926) < 1e-6);
}

TEST_CASE("the third-order critical speed of a car engine of 1928 is the calculated and the measured one") {
  // Source: S. S. Tresilian, memorandum of about 29 February 1928 (Rolls-Royce experimental archive, box
  // 25/3): calculated 3296, measured 3300 rpm. Print to 0.05 %; the measurement lies within 0.2 %.
  constexpr double pound_foot = 1.3558179483;  // [N m] and, per slug ft^2, [kg m^2]
  const Modes found =
      modes(chain({0.01559 * pound_foot, 0.6911 * pound_foot}, {16350.0 * pound_foot}).system());
  const double critical_rpm = hertz(found.angular_frequency(1)) * 60.0 / 3.0;
  CHECK(relative_error(critical_rpm, 3296.0) < 5e-4);
  CHECK(relative_error(critical_rpm, 3300.0) < 2e-3);
}

TEST_CASE("massless gears leave one frequency and turn where the shafts hold them") {
  // Source: closed form with round numbers, 120 rad/s; shape from the balance of torques along the line.
  LinearAssembler line(4);
  line.add_inertia(0, 2.0);
  line.add_inertia(3, 8.0);
  line.add_spring(0, 1, 1.0, 40000.0, 0.0);
  line.add_rigid_gear(1, 2, 2.0);
  line.add_spring(2, 3, 1.0, 90000.0, 0.0);
  const Modes found = modes(line.system());
  REQUIRE(found.angular_frequency.size() == 2);
  CHECK(found.angular_frequency(0) == 0.0);
  CHECK(relative_error(found.angular_frequency(1), 120.0) < closed_form);
  CHECK(found.shapes.col(0).isApprox(Eigen::Vector4d(1.0, 1.0, 0.5, 0.5), closed_form));
  CHECK(found.shapes.col(1).isApprox(Eigen::Vector4d(1.0, 0.28, 0.14, -0.5), closed_form));
}

TEST_CASE("a motor and a pump behind a reduction gear swing at 4.68 Hz with a node in the motor shaft") {
  // Source: data from memory of an example in Khurmi & Gupta, Theory of Machines (4.7 Hz, 0.294 m
  // remembered); 4.68179 Hz and 0.29407 m computed from them by the closed form.
  const double motor_shaft = fixtures::shaft_stiffness(0.060, 0.3, 80e9);
  LinearAssembler line(4);
  line.add_inertia(0, 400.0);
  line.add_inertia(3, 1500.0);
  line.add_spring(0, 1, 1.0, motor_shaft, 0.0);
  line.add_rigid_gear(1, 2, 3.0);
  line.add_spring(2, 3, 1.0, fixtures::shaft_stiffness(0.100, 0.6, 80e9), 0.0);
  const Modes found = modes(line.system());
  CHECK(relative_error(hertz(found.angular_frequency(1)), 4.68179) < 1e-5);
  const double node = 0.3 / (1.0 - from_first(found, 1)(1));
  CHECK(relative_error(node, 0.29407) < 2e-5);
}

TEST_CASE("the damped launch has the frequencies and poles of a state matrix computed elsewhere") {
  // Source: derived; eigenvalues of the same line in a separate numerical program, 1e-6.
  const Modes found = modes(fixtures::damped_launch().system());
  const double frequencies[] = {86.0542763, 294.557159, 625.786321};
  CHECK(found.angular_frequency(0) == 0.0);
  for (int j = 0; j < 3; ++j) CHECK(relative_error(found.angular_frequency(j + 1), frequencies[j]) < 1e-6);

  using namespace std::complex_literals;
  REQUIRE(found.poles.size() == 7);
  CHECK(std::abs(found.poles(0) - (-0.863797)) < 1e-6);  // printed to 6 decimals
  const std::complex<double> upper[] = {-3.686127 + 86.035713i, -42.943316 + 291.186686i,
                                        -18.160881 + 625.466781i};
  for (int j = 0; j < 3; ++j) {
    CHECK(std::abs(found.poles(2 + 2 * j) - upper[j]) < 2e-6);
    CHECK(std::abs(found.poles(1 + 2 * j) - std::conj(upper[j])) < 2e-6);
  }
}

TEST_CASE("a damper across the spring gives the textbook damping ratio and leaves the rigid body alone") {
  // Source: closed form, zeta = c wn / (2 k), wd = wn sqrt(1 - zeta^2).
  const Modes found = modes(chain({0.5, 0.1}, {1000.0}, 0.5).system());
  REQUIRE(found.poles.size() == 3);
  CHECK(found.poles(0) == 0.0);
  CHECK(relative_error(-found.poles(2).real() / std::abs(found.poles(2)), 0.0273861279) < closed_form);
  CHECK(relative_error(found.poles(2).imag(), 109.503424604) < closed_form);
}

TEST_CASE("a damper behind a massless station gives the poles of a spring and damper in series") {
  // Source: closed form, s^2 + (k/c) s + k/J = 0 with roots -1 and -2.
  LinearAssembler line(2);
  line.add_inertia(0, 1.0);
  line.add_spring(0, 1, 1.0, 2.0, 0.0);
  line.add_ground(1, 0.0, 2.0 / 3.0);
  const Modes found = modes(line.system());
  REQUIRE(found.poles.size() == 2);
  CHECK(std::abs(found.poles(0) - (-2.0)) < closed_form);
  CHECK(std::abs(found.poles(1) - (-1.0)) < closed_form);
}

TEST_CASE("every pole makes the dynamic stiffness of a line with massless, damped stations singular") {
  // Source: definition of a pole, det(K + s C + s^2 M) = 0; a second route beside the state matrix.
  LinearAssembler line(5);
  line.add_inertia(0, 2.0);
  line.add_inertia(3, 1.0);
  line.add_spring(0, 1, 1.0, 100.0, 0.5);
  line.add_spring(1, 2, 1.0, 150.0, 4.0);  // both ends massless
  line.add_spring(2, 3, 2.0, 200.0, 0.0);
  line.add_spring(3, 4, 1.0, 80.0, 0.0);  // a massless end without damper: no state of its own
  line.add_ground(3, 50.0, 0.2);
  const LinearSystem system = line.system();
  const Modes found = modes(system);
  CHECK(found.angular_frequency.size() == 2);
  CHECK(found.poles.size() == 2 * 2 + 2);
  for (const std::complex<double> pole : found.poles) {
    const Eigen::MatrixXcd dynamic = system.stiffness + pole * system.damping + pole * pole * system.inertia;
    const Eigen::VectorXd singular = Eigen::JacobiSVD<Eigen::MatrixXcd>(dynamic).singularValues();
    CHECK(singular(4) / singular(0) < closed_form);
    CHECK(pole.real() < 0.0);
  }
}

TEST_CASE("a line that falls apart or has no inertia is refused") {
  LinearAssembler loose(2);
  loose.add_inertia(0, 1.0);
  CHECK_THROWS_WITH_AS(modes(loose.system()), doctest::Contains("held by no spring"), SolveError);
  LinearAssembler weightless(1);
  weightless.add_ground(0, 1.0, 0.0);
  CHECK_THROWS_AS(modes(weightless.system()), SolveError);
  LinearSystem negative = chain({1.0, 1.0}, {1.0}).system();
  negative.inertia(0, 0) = -1.0;
  CHECK_THROWS_AS(modes(negative), SolveError);
}
