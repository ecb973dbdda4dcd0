#include "calmshaft/measure/cycle_statistics.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <stdexcept>
#include <vector>

using namespace calmshaft;

TEST_CASE("mean, lowest, highest and standard error are those of the textbook") {
  // Source: definition s / sqrt(n) with n - 1 under s; by hand: 2 4 4 4 5 5 7 9 has mean 5, squares 32, s^2 =
  // 32/7.
  const CycleStatistics found = cycle_statistics(std::vector{2.0, 4.0, 4.0, 4.0, 5.0, 5.0, 7.0, 9.0});
  CHECK(found.mean == 5.0);
  CHECK(found.lowest == 2.0);
  CHECK(found.highest == 9.0);
  CHECK(found.cycles == 8);
  CHECK(found.standard_error == doctest::Approx(std::sqrt(32.0 / 7.0 / 8.0)).epsilon(1e-15));
}

TEST_CASE("equal cycles have no standard error and a single cycle an unknown one") {
  CHECK(cycle_statistics(std::vector{3.0, 3.0, 3.0}).standard_error == 0.0);
  const CycleStatistics single = cycle_statistics(std::vector{3.0});
  CHECK(single.mean == 3.0);
  CHECK(std::isnan(single.standard_error));
}

TEST_CASE("a cycle without a value makes every figure unknown, and no cycle is an error") {
  const CycleStatistics found =
      cycle_statistics(std::vector{1.0, std::numeric_limits<double>::quiet_NaN(), 2.0});
  CHECK(std::isnan(found.mean));
  CHECK(std::isnan(found.lowest));
  CHECK(std::isnan(found.highest));
  CHECK_THROWS_AS(cycle_statistics(std::vector<double>{}), std::invalid_argument);
}
