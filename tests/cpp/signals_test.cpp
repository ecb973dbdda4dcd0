#include "calmshaft/signal/signals.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

using namespace calmshaft;

TEST_CASE("a column is found by its name") {
  const Signals signals{{{"time", "s", "", {0.0, 1.0}}, {"mesh_torque", "N m", "gearbox", {5.0, 6.0}}}};
  CHECK(signals["mesh_torque"].unit == "N m");
  CHECK(signals["mesh_torque"].values[1] == 6.0);
}

TEST_CASE("an unknown column is refused with the nearest names, or with all where none is near") {
  const Signals signals{{{"time", "s", "", {}}, {"mesh_torque", "N m", "gearbox", {}}}};
  CHECK_THROWS_WITH_AS(signals["mesh torque"],
                       "signals: no column is named \"mesh torque\"; write mesh_torque", std::out_of_range);
  CHECK_THROWS_WITH_AS(signals["plate_twist"], doctest::Contains("write time or mesh_torque"),
                       std::out_of_range);
  CHECK_THROWS_WITH_AS(Signals{}["time"], doctest::Contains("there are no columns"), std::out_of_range);
}
