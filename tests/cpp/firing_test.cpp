// Phasor sums of evenly spaced firing are exact (geometric series); sources of the other figures stand beside
// them.
#include "calmshaft/engine/firing.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <numbers>
#include <numeric>
#include <vector>

#include "calmshaft/core/errors.hpp"
#include "sample_engine.hpp"

using namespace calmshaft;
using sample::degree;
using std::numbers::pi;

namespace {

std::vector<int> in_sequence(int cylinders) {
  std::vector<int> order(static_cast<std::size_t>(cylinders));
  std::iota(order.begin(), order.end(), 1);
  return order;
}

double sum_of_pair(double degrees_apart, double order) {
  return std::abs(firing_phasor(order, {0.0, degrees_apart * degree}));
}

// Amplitude of order p of a torque pulse of height 1, 60 degrees wide, once in 720 degrees.
double pulse_amplitude(double order) {
  return 120.0 / 720.0 * std::abs(std::sin(pi * order / 6.0) / (pi * order / 6.0));
}

}  // namespace

TEST_CASE("firing angles follow the firing order") {
  const std::vector<double> angles = firing_angles({1, 3, 4, 2}, 4);
  CHECK(angles[0] == 0.0);
  CHECK(angles[2] == doctest::Approx(pi));
  CHECK(angles[3] == doctest::Approx(2 * pi));
  CHECK(angles[1] == doctest::Approx(3 * pi));
}

TEST_CASE("cylinder 1 fires at zero wherever the order begins") {
  CHECK(firing_angles({4, 2, 1, 3}, 4) == firing_angles({1, 3, 4, 2}, 4));
}

TEST_CASE("a two-stroke fires every cylinder in one turn") {
  CHECK(firing_angles({1, 2, 3}, 2)[2] == doctest::Approx(4.0 * pi / 3.0));
}

TEST_CASE("a firing order that misses a cylinder is refused with advice") {
  CHECK_THROWS_WITH_AS(firing_angles({1, 3, 3, 2}, 4),
                       "engine.firing_order: is [1, 3, 3, 2], must name every cylinder exactly once; "
                       "write each of 1 to 4 once",
                       LineError);
  CHECK_THROWS_AS(firing_angles({}, 4), LineError);
}

TEST_CASE("even firing leaves only multiples of half the number of cylinders") {
  for (const int cylinders : {1, 2, 3, 4, 5, 6, 8, 12}) {
    const std::vector<double> angles = firing_angles(in_sequence(cylinders), 4);
    for (int half_orders = 1; half_orders <= 24; ++half_orders) {
      CAPTURE(cylinders);
      CAPTURE(half_orders);
      const double sum = std::abs(firing_phasor(0.5 * half_orders, angles));
      CHECK(std::abs(sum - (half_orders % cylinders == 0 ? cylinders : 0)) < 1e-12);
    }
  }
}

TEST_CASE("one dead cylinder leaves its own share at every order") {
  const std::vector<double> angles = firing_angles({1, 5, 3, 6, 2, 4}, 4);
  for (const std::size_t dead : {0U, 2U, 5U}) {
    std::vector<double> strengths(6, 1.0);
    strengths[dead] = 0.0;
    for (int half_orders = 1; half_orders <= 24; ++half_orders) {
      const double sum = std::abs(firing_phasor(0.5 * half_orders, angles, strengths));
      CHECK(std::abs(sum - (half_orders % 6 == 0 ? 5.0 : 1.0)) < 1e-12);
    }
  }
}

TEST_CASE("vee twins fire unevenly") {
  // 2 |cos(p a / 2)|, a = 315 degrees at 45 and 270 degrees at 90 degrees bank angle; printed to four
  // decimals
  CHECK(std::abs(sum_of_pair(315, 0.5) - 0.3902) < 1e-4);
  CHECK(std::abs(sum_of_pair(315, 1.0) - 1.8478) < 1e-4);
  CHECK(std::abs(sum_of_pair(315, 1.5) - 1.1111) < 1e-4);
  CHECK(std::abs(sum_of_pair(315, 2.0) - 1.4142) < 1e-4);
  CHECK(std::abs(sum_of_pair(270, 0.5) - 0.7654) < 1e-4);
  CHECK(std::abs(sum_of_pair(270, 1.0) - 1.4142) < 1e-4);
  CHECK(std::abs(sum_of_pair(270, 1.5) - 1.8478) < 1e-4);
  CHECK(std::abs(sum_of_pair(270, 2.0)) < 1e-12);
}

TEST_CASE("the two-bank factors of 1932 are reproduced") {
  // Aero-engine maker's archive, calculation table for torsional vibrations in twelve-cylinder vee engines,
  // 1932: orders 1.5 to 7, banks at 45 and 60 degrees. Printed to three decimals by slide rule: 2e-3.
  const std::array<double, 12> bank_45{1.111, 1.414, 1.663, .765,  1.961, 0,
                                       1.961, .765,  1.663, 1.414, 1.111, 1.848};
  const std::array<double, 12> bank_60{1.414, 1.0,   1.932, 0,   1.932, 1.0,
                                       1.414, 1.732, .517,  2.0, .517,  1.732};
  for (std::size_t i = 0; i < 12; ++i) {
    const double order = 1.5 + 0.5 * static_cast<double>(i);
    CAPTURE(order);
    CHECK(std::abs(sum_of_pair(360 - 45, order) - bank_45[i]) < 2e-3);
    CHECK(std::abs(sum_of_pair(360 - 60, order) - bank_60[i]) < 2e-3);
  }
}

TEST_CASE("six rectangular pulses with one removed") {
  // Closed form (120/720) |sinc(p/6)|: 0.164769 at order 0.5, 0.106103 at 3, 0 at 6.
  CHECK(pulse_amplitude(0.5) == doctest::Approx(0.164769).epsilon(1e-5));
  const std::vector<double> angles = firing_angles({1, 5, 3, 6, 2, 4}, 4);
  const std::vector<double> one_removed{1, 1, 0, 1, 1, 1};
  constexpr int nodes = 1440;
  std::vector<double> torque(nodes, 0.0);
  for (std::size_t cylinder = 0; cylinder < 6; ++cylinder) {
    const int first = static_cast<int>(std::lround(angles[cylinder] / (4 * pi) * nodes));
    for (int j = 0; j < 120; ++j)
      torque[static_cast<std::size_t>((first + j) % nodes)] += one_removed[cylinder];
  }
  for (const double order : {0.5, 1.0, 2.5, 3.0, 6.0}) {
    CAPTURE(order);
    const double amplitude = 2.0 * std::abs(sample::harmonic(torque, static_cast<int>(2 * order)));
    const double predicted = pulse_amplitude(order) * std::abs(firing_phasor(order, angles, one_removed));
    // samples of a step: relative error (pi p / 720)^2 / 6, below 2e-4
    CHECK(std::abs(amplitude - predicted) < 2e-4 * pulse_amplitude(0.5));
  }
}
