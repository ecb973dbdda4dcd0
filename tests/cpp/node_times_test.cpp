#include "calmshaft/measure/node_times.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <stdexcept>
#include <vector>

using namespace calmshaft;

TEST_CASE("times that increase are taken, and every other list is refused with the place of the fault") {
  const std::vector<double> values{1.0, 2.0, 3.0};
  CHECK_NOTHROW(check_node_times("speed", values, std::vector{0.0, 0.1, 0.4}));
  CHECK_THROWS_WITH_AS(check_node_times("speed", values, std::vector{0.0, 0.1}),
                       "speed: 3 values at 2 times; give one time for each value, two or more",
                       std::invalid_argument);
  CHECK_THROWS_WITH_AS(check_node_times("speed", values, std::vector{0.0, 0.2, 0.1}),
                       doctest::Contains("at node 2"), std::invalid_argument);
  const double not_a_number = std::numeric_limits<double>::quiet_NaN();
  CHECK_THROWS_AS(check_node_times("speed", values, std::vector{0.0, not_a_number, 1.0}),
                  std::invalid_argument);
}
