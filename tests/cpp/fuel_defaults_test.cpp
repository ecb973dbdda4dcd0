// Default figures: values from memory of Heywood (burn shape, exponent) and common practice, no source
// (pressures, timing). The checks are of the rules that the model needs, not of the figures.
#include "calmshaft/engine/fuel_defaults.hpp"

#include <doctest/doctest.h>

#include <numbers>

#include "calmshaft/engine/burn.hpp"
#include "sample_engine.hpp"

using namespace calmshaft;

TEST_CASE("default combustion lies inside the closed cycle and burns nearly everything") {
  for (const Fuel fuel : {Fuel::diesel, Fuel::petrol}) {
    for (const int strokes : {2, 4}) {
      const Combustion combustion = default_combustion(fuel, strokes);
      CHECK(combustion.inlet_closes < combustion.burn_start);
      CHECK(combustion.burn_start + combustion.burn_duration < combustion.exhaust_opens);
      CHECK(combustion.exhaust_opens < std::numbers::pi);
      CHECK(wiebe_burnt_fraction(wiebe(combustion), combustion.exhaust_opens) > 0.99);
    }
  }
}

TEST_CASE("gas flows forward: a four-stroke pushes out, a two-stroke is blown through") {
  for (const Fuel fuel : {Fuel::diesel, Fuel::petrol}) {
    CHECK(default_combustion(fuel, 4).exhaust_pressure >= default_combustion(fuel, 4).inlet_pressure);
    CHECK(default_combustion(fuel, 2).exhaust_pressure < default_combustion(fuel, 2).inlet_pressure);
  }
}
