#include "calmshaft/measure/rainflow.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <map>
#include <stdexcept>
#include <vector>

using namespace calmshaft;

namespace {

std::map<double, double> counts_by_range(const std::vector<double>& values) {
  std::map<double, double> counts;
  for (const CountedCycle& cycle : rainflow(values)) counts[cycle.range] += cycle.count;
  return counts;
}

}  // namespace

TEST_CASE("the worked history of the standard gives its table of counts") {
  // Source: ASTM E1049-85, 5.4.4 and Fig. 6; history and counts seen in pages about packages that count so.
  const std::map<double, double> published{{3, 0.5}, {4, 1.5}, {6, 0.5}, {8, 1.0}, {9, 0.5}};
  CHECK(counts_by_range({-2, 1, -3, 5, -1, 3, -4, 4, -2}) == published);
}

TEST_CASE("each cycle keeps its own mean") {
  // Source: the same history, worked by hand: the only whole cycle runs between -1 and 3.
  int whole = 0;
  for (const CountedCycle& cycle : rainflow(std::vector<double>{-2, 1, -3, 5, -1, 3, -4, 4, -2}))
    if (cycle.count == 1.0) {
      ++whole;
      CHECK(cycle.range == 4.0);
      CHECK(cycle.mean == 1.0);
    }
  CHECK(whole == 1);
}

TEST_CASE("level stretches and points on the way change nothing") {
  // Source: by definition only turning points count.
  const auto turns = counts_by_range({0, 3, 1, 5});
  CHECK(counts_by_range({0, 0, 1, 2, 3, 3, 2, 1, 1, 4, 5, 5}) == turns);
}

TEST_CASE("n equal swings from zero are n cycles less what the ends leave as halves") {
  // Source: counted by hand: 0 5 0 5 0 5 0 has six half cycles of range 5.
  CHECK(counts_by_range({0, 5, 0, 5, 0, 5, 0}) == std::map<double, double>{{5, 3.0}});
}

TEST_CASE("what does not turn has no cycle, a single slope is half of one") {
  CHECK(rainflow({}).empty());
  CHECK(rainflow(std::vector<double>{7.0}).empty());
  CHECK(rainflow(std::vector<double>{7.0, 7.0, 7.0}).empty());
  CHECK(counts_by_range({1, 2, 4}) == std::map<double, double>{{3, 0.5}});
}

TEST_CASE("a value that is not finite is refused with its place") {
  const std::vector<double> values{1.0, std::numeric_limits<double>::quiet_NaN()};
  CHECK_THROWS_WITH_AS(rainflow(values), doctest::Contains("value 1"), std::invalid_argument);
}
