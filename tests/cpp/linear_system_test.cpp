#include "calmshaft/solve/linear_system.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <stdexcept>

#include "linear_fixtures.hpp"

using namespace calmshaft;

// Source of every value here: written out by hand from twist = angle(from) - ratio * angle(to).

TEST_CASE("a geared spring puts k, -i k and i^2 k into the stiffness matrix") {
  LinearAssembler line(2);
  line.add_spring(0, 1, 2.0, 100.0, 3.0);
  const LinearSystem system = line.system();
  Eigen::Matrix2d expected;
  expected << 100.0, -200.0, -200.0, 400.0;
  CHECK(system.stiffness == expected);
  CHECK(system.damping == expected * 0.03);
}

TEST_CASE("a rigid gear refers the driven side to the driving shaft by the ratio squared") {
  // Rule: Thomson, Theory of Vibration with Applications, referred inertia J n^2, stiffness k n^2,
  // n = driven over driving speed.
  LinearAssembler line(3);
  line.add_inertia(0, 1.0);
  line.add_inertia(1, 8.0);
  line.add_rigid_gear(0, 1, 2.0);  // n = 1/2
  line.add_spring(1, 2, 1.0, 400.0, 0.0);
  const LinearSystem system = line.system();
  REQUIRE(system.inertia.rows() == 2);
  CHECK(system.inertia(0, 0) == 1.0 + 8.0 / 4.0);
  CHECK(system.stiffness(0, 0) == 400.0 / 4.0);
  CHECK(system.stiffness(0, 1) == -400.0 / 2.0);
  CHECK(system.expansion(1, 0) == 0.5);
}

TEST_CASE("gears joined one after another multiply their ratios in whatever order they are added") {
  LinearAssembler forward(3), backward(3);
  forward.add_rigid_gear(0, 1, 2.0);
  forward.add_rigid_gear(1, 2, -3.0);
  backward.add_rigid_gear(1, 2, -3.0);
  backward.add_rigid_gear(0, 1, 2.0);
  CHECK(forward.system().expansion == backward.system().expansion);
  CHECK(forward.system().expansion(2, 0) == doctest::Approx(-1.0 / 6.0).epsilon(1e-15));
}

TEST_CASE("a fixed station holds still with every gear joined to it") {
  LinearAssembler line = fixtures::chain({1.0, 2.0, 3.0}, {10.0, 20.0});
  line.fix(0);
  const LinearSystem system = line.system();
  CHECK(system.inertia.diagonal() == Eigen::Vector2d(2.0, 3.0));
  CHECK(system.stiffness(0, 0) == 30.0);
  CHECK(system.expansion.row(0).isZero(0.0));
  line.add_rigid_gear(0, 1, 2.0);
  CHECK(line.system().inertia.rows() == 1);
}

TEST_CASE("a closed loop of gears is taken when it can turn and refused when it cannot") {
  LinearAssembler line(3);
  line.add_rigid_gear(0, 1, 2.0);
  line.add_rigid_gear(1, 2, 3.0);
  line.add_rigid_gear(0, 2, 6.0);
  CHECK(line.system().expansion.cols() == 1);
  CHECK_THROWS_WITH_AS(line.add_rigid_gear(0, 2, 5.0), doctest::Contains("write 6"), std::invalid_argument);
}

TEST_CASE("a wrong station, value or ratio is refused with what to write instead") {
  LinearAssembler line(2);
  CHECK_THROWS_WITH_AS(line.add_inertia(2, 1.0), "inertia: there is no station 2; write 0 to 1",
                       std::invalid_argument);
  CHECK_THROWS_AS(line.add_inertia(-1, 1.0), std::invalid_argument);
  CHECK_THROWS_AS(line.add_inertia(0, -0.1), std::invalid_argument);
  CHECK_THROWS_AS(line.add_inertia(0, std::numeric_limits<double>::quiet_NaN()), std::invalid_argument);
  CHECK_THROWS_AS(line.add_spring(0, 1, 0.0, 1.0, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(line.add_spring(0, 1, 1.0, -1.0, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(line.add_spring(1, 1, 1.0, 1.0, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(line.add_ground(0, 1.0, std::numeric_limits<double>::infinity()), std::invalid_argument);
  CHECK_THROWS_AS(line.add_rigid_gear(0, 1, 0.0), std::invalid_argument);
  CHECK_THROWS_AS(line.fix(5), std::invalid_argument);
  CHECK_THROWS_AS(LinearAssembler(0), std::invalid_argument);
  line.fix(0);
  line.fix(1);
  CHECK_THROWS_WITH_AS(line.system(), doctest::Contains("every station is fixed"), std::invalid_argument);
}
