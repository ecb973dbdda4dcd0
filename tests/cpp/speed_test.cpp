#include "calmshaft/measure/speed.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>
#include <stdexcept>
#include <vector>

using namespace calmshaft;

namespace {

// Speed 100 + 2 sin(300 t) rad/s over one period of the swing, nodes at the given spacing.
struct SwingingSpeed {
  std::vector<double> speed, time;

  explicit SwingingSpeed(int intervals, double sign = 1.0) {
    for (int n = 0; n <= intervals; ++n) {
      time.push_back(2.0 * std::numbers::pi / 300.0 * n / intervals);
      speed.push_back(sign * (100.0 + 2.0 * std::sin(300.0 * time.back() + 0.2)));
    }
  }
};

}  // namespace

TEST_CASE(
    "a swing of 2 percent either way is a cyclic irregularity of 4 percent in either direction of turning") {
  // Source: definition (greatest - least) / mean. 36 points a swing: parabola within 1e-5 of the swing.
  for (const double sign : {1.0, -1.0}) {
    const SwingingSpeed shaft(36, sign);
    CHECK(cyclic_irregularity(shaft.speed, shaft.time) == doctest::Approx(0.04).epsilon(1e-6));
  }
}

TEST_CASE("the mean speed weighs slow parts by the time they last") {
  // Source: by hand, 10 rad/s for 3 s, then evenly up to 30 rad/s in 1 s: (30 + 20) / 4.
  CHECK(time_mean(std::vector{10.0, 10.0, 30.0}, std::vector{0.0, 3.0, 4.0}) ==
        doctest::Approx(12.5).epsilon(1e-15));
}

TEST_CASE("the angular acceleration of a sine peaks at amplitude times frequency") {
  // Source: closed form, 2 x 300 = 600 rad/s^2; slopes between nodes are low by (spacing in radians)^2 / 24.
  const SwingingSpeed shaft(360);
  CHECK(peak_angular_acceleration(shaft.speed, shaft.time) == doctest::Approx(600.0).epsilon(2e-5));
}

TEST_CASE("a shaft at rest has no cyclic irregularity") {
  CHECK_THROWS_WITH_AS(cyclic_irregularity(std::vector{0.0, 0.0}, std::vector{0.0, 1.0}),
                       doctest::Contains("mean speed is zero"), std::invalid_argument);
}
