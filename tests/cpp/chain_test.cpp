#include "calmshaft/solve/chain.hpp"

#include <doctest/doctest.h>

#include <limits>

#include "calmshaft/solve/modes.hpp"
#include "linear_fixtures.hpp"

using namespace calmshaft;
using fixtures::relative_error;

namespace {

Chain two_discs() { return {{"engine", "pump"}, {0.5, 0.1}, {1000.0}, {}, {}, {}, {}, {}}; }

// Massless gears between a fast and a slow shaft.
Chain geared() {
  return {{"a", "b", "c", "d"},
          {2.0, 0.0, 0.0, 8.0},
          {40000.0, std::nullopt, 90000.0},
          {},
          {1.0, 1.0, 0.5, 0.5},
          {},
          {},
          {}};
}

std::vector<std::string> paths(const Chain& chain) {
  std::vector<std::string> found;
  for (const Fault& fault : check(chain)) found.push_back(fault.path);
  return found;
}

using Paths = std::vector<std::string>;

}  // namespace

TEST_CASE("a chain gives the frequencies of its closed form") {
  CHECK(check(two_discs()).empty());
  // w^2 = k (J1 + J2) / (J1 J2)
  CHECK(relative_error(modes(linear_system(linear_line(two_discs()))).angular_frequency(1), std::sqrt(12000.0)) <
        1e-12);
  CHECK(check(geared()).empty());
  // referred to the fast shaft 2 and 2 kg m^2 joined by 40000 and 22500 N m/rad in series
  CHECK(relative_error(modes(linear_system(linear_line(geared()))).angular_frequency(1), 120.0) < 1e-12);
}

TEST_CASE("every fault of a chain is found at once") {
  Chain chain = two_discs();
  chain.names = {"a", "a"};
  chain.inertias = {-0.5, std::numeric_limits<double>::quiet_NaN()};
  chain.stiffnesses = {-1.0};
  chain.ground_dampings = {1.0};
  chain.fixed = {2};
  CHECK(paths(chain) ==
        Paths{"names[1]", "inertias[0]", "inertias[1]", "stiffnesses[0]", "ground_dampings", "fixed[0]"});
}

TEST_CASE("a chain without stations says so") { CHECK(paths({}) == Paths{"inertias"}); }

TEST_CASE("springs belong on one shaft and gears between shafts of different speed") {
  Chain chain = geared();
  chain.stiffnesses = {std::nullopt, 5.0, 90000.0};
  chain.dampings = {0.0, 1.0, 0.0};
  CHECK(paths(chain) == Paths{"stiffnesses[0]", "stiffnesses[1]", "dampings[1]"});
  chain = geared();
  chain.speed_ratios = {2.0, 2.0, 1.0, 1.0};
  CHECK(paths(chain) == Paths{"speed_ratios[0]"});
  chain.speed_ratios = {1.0, 1.0, 0.0, 0.0};
  CHECK(paths(chain) == Paths{"speed_ratios[2]", "speed_ratios[3]"});
}

TEST_CASE("holding all, or one twice through gears, is refused") {
  Chain chain = two_discs();
  chain.fixed = {0, 1};
  CHECK(paths(chain) == Paths{"fixed"});
  chain = geared();
  chain.fixed = {1, 2};
  CHECK(paths(chain) == Paths{"fixed[1]"});
}

TEST_CASE("a station without inertia has to be held by a spring") {
  Chain chain = two_discs();
  chain.stiffnesses = {0.0};
  CHECK(paths(chain) == Paths{"stiffnesses[0]"});  // joined to nothing
  chain.dampings = {2.0};
  CHECK(paths(chain).empty());  // a damper alone
  chain.inertias = {0.5, 0.0};
  CHECK(paths(chain) == Paths{"inertias[1]"});
  chain.ground_stiffnesses = {0.0, 10.0};
  CHECK(paths(chain).empty());
  chain.inertias = {0.0, 0.0};
  CHECK(paths(chain) == Paths{"inertias"});
}
