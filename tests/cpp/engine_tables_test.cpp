// Checks by a second route: identities of evenly spaced firing, difference quotients, direct sums over
// cylinders.
#include "calmshaft/engine/engine_tables.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <thread>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/engine/friction.hpp"
#include "sample_engine.hpp"

using namespace calmshaft;
using sample::degree;
using std::numbers::pi;

namespace {

// Gas torque at fuelling factor 1.
std::vector<double> gas_torque(const EngineTables& tables) {
  std::vector<double> sum = tables.base_torque;
  for (std::size_t j = 0; j < sum.size(); ++j) sum[j] += tables.fuelled_torque[j];
  return sum;
}

// One cylinder's torque by direct evaluation.
CylinderTorque direct(const EngineCycles& cycles, const Engine& engine, std::size_t cylinder, double angle) {
  return cycles.cylinder().torque(angle - engine.firing_angles[cylinder]);
}

}  // namespace

TEST_CASE("full fuelling of a healthy engine gives the rated torque at rated speed") {
  for (const Fuel fuel : {Fuel::diesel, Fuel::petrol}) {
    for (const int strokes : {2, 4}) {
      const Engine engine = sample::engine({1, 3, 4, 2}, strokes, fuel);
      const double asked = engine.rated_torque + friction_torque(engine).torque(engine.rated_speed);
      // a table of 5760 nodes knows the mean to second order in its spacing
      CHECK(sample::mean(gas_torque(engine_tables(engine, {}, 5760))) ==
            doctest::Approx(asked).epsilon(1e-5));
    }
  }
}

TEST_CASE("a healthy evenly firing engine has only multiples of half its cylinders") {
  for (const std::vector<int>& order : {std::vector<int>{1, 3, 2}, {1, 3, 4, 2}, {1, 5, 3, 6, 2, 4}}) {
    const auto cylinders = static_cast<int>(order.size());
    const std::vector<double> torque = gas_torque(engine_tables(sample::engine(order), {}, 1440));
    const double major = std::abs(sample::harmonic(torque, cylinders));
    for (int half_orders = 1; half_orders <= 24; ++half_orders) {
      if (half_orders % cylinders == 0) continue;
      CHECK(std::abs(sample::harmonic(torque, half_orders)) < 1e-11 * major);  // rounding
    }
  }
}

TEST_CASE("one dead cylinder gives every other order the fired share of one cylinder") {
  const Engine engine = sample::engine();
  const EngineCycles cycles(engine);
  constexpr int nodes = 1440;
  std::vector<double> fired;
  for (int j = 0; j < nodes; ++j) {
    fired.push_back(cycles.rated_heat() * cycles.cylinder().torque(4 * pi * j / nodes).fired);
  }
  for (const std::size_t dead : {0U, 1U, 2U, 3U}) {
    std::vector<double> strengths(4, 1.0);
    strengths[dead] = 0.0;
    const std::vector<double> torque = gas_torque(cycles.tables(strengths, nodes));
    for (int half_orders = 1; half_orders <= 24; ++half_orders) {
      if (half_orders % 4 == 0) continue;
      CHECK(std::abs(sample::harmonic(torque, half_orders)) ==
            doctest::Approx(std::abs(sample::harmonic(fired, half_orders))).epsilon(1e-9));
    }
  }
}

TEST_CASE("misfiring takes away the fired part alone, in its share") {
  for (const Fuel fuel : {Fuel::diesel, Fuel::petrol}) {
    const Engine engine = sample::engine({1, 3, 4, 2}, 4, fuel);
    const EngineCycles cycles(engine);
    const EngineTables healthy = cycles.tables({}, 720);
    const EngineTables weak = cycles.tables({1, 1, 0.3, 1}, 720);
    CHECK(healthy.base_torque == weak.base_torque);
    CHECK(healthy.inertia == weak.inertia);
    for (std::size_t j = 0; j < 720; j += 7) {
      const double angle = 4 * pi * static_cast<double>(j) / 720;
      const double lost = 0.7 * cycles.rated_heat() * direct(cycles, engine, 2, angle).fired;
      CHECK(std::abs(healthy.fuelled_torque[j] - weak.fuelled_torque[j] - lost) < 1e-9 * engine.rated_torque);
    }
  }
}

TEST_CASE("a petrol engine's trapped charge is fuelled, a diesel's is not") {
  for (const Fuel fuel : {Fuel::diesel, Fuel::petrol}) {
    const Engine engine = sample::engine({1, 3, 4, 2}, 4, fuel);
    const EngineCycles cycles(engine);
    const EngineTables dead = cycles.tables({0, 0, 0, 0}, 720);
    double trapped = 0.0;
    for (std::size_t i = 0; i < 4; ++i) trapped += direct(cycles, engine, i, 4 * pi * 40 / 720).trapped;
    const double expected = fuel == Fuel::petrol ? trapped : 0.0;
    CHECK(std::abs(dead.fuelled_torque[40] - expected) < 1e-9 * engine.rated_torque);
  }
}

TEST_CASE("uneven firing angles off the grid are evaluated where they are") {
  Engine engine = sample::engine();
  engine.firing_angles = {0.0, 90.0 * degree, 413.7 * degree,
                          291.1 * degree};  // a vee, two angles off the nodes
  const EngineCycles cycles(engine);
  const std::vector<double> strengths{1.0, 0.5, 0.9, 0.0};
  const EngineTables tables = cycles.tables(strengths, 1008);
  for (std::size_t j = 0; j < 1008; j += 5) {
    const double angle = 4 * pi * static_cast<double>(j) / 1008;
    double base = 0.0;
    double fuelled = 0.0;
    double inertia = engine.crank_inertia;
    for (std::size_t i = 0; i < 4; ++i) {
      const CylinderTorque torque = direct(cycles, engine, i, angle);
      base += torque.open + torque.trapped;
      fuelled += strengths[i] * cycles.rated_heat() * torque.fired;
      inertia +=
          moving_inertia(slider_crank(engine), moving_parts(engine), angle - engine.firing_angles[i]).value;
    }
    // on-node cylinders share samples whose angles differ by rounding, 1e-15 of a slope of 1e4 N m/rad
    REQUIRE(std::abs(tables.base_torque[j] - base) < 1e-9 * engine.rated_torque);
    REQUIRE(std::abs(tables.fuelled_torque[j] - fuelled) < 1e-9 * engine.rated_torque);
    REQUIRE(tables.inertia[j] == doctest::Approx(inertia).epsilon(1e-12));
  }
}

TEST_CASE("the inertia slope is the derivative of the inertia") {
  const EngineTables tables = engine_tables(sample::engine({1, 3, 2}), {}, 5760);
  const double width = tables.cycle / tables.nodes;
  for (std::size_t j = 1; j + 1 < 5760; j += 11) {
    const double quotient = (tables.inertia[j + 1] - tables.inertia[j - 1]) / (2 * width);
    // third-order error of the quotient: (k width)^2 / 6 with k = 3, below 1e-5 of the greatest slope
    REQUIRE(std::abs(tables.inertia_slope[j] - quotient) < 1e-7);
  }
}

TEST_CASE("the inertia torque of an in-line six is of orders 3 and 6") {
  // Aero-engine maker's archive, study of piston inertia torque and engine roughness, 17 Feb 1932: order 3
  // leads, then 6; the others cancel.
  const EngineTables tables = engine_tables(sample::engine({1, 5, 3, 6, 2, 4}), {}, 1440);
  const auto order = [&](int p) { return std::abs(sample::harmonic(tables.inertia_slope, 2 * p)); };
  CHECK(order(3) > 10 * order(6));
  CHECK(order(6) > 0.0);
  for (const int p : {1, 2, 4, 5}) CHECK(order(p) < 1e-12 * order(3));
}

TEST_CASE("a two-stroke repeats every turn") {
  const Engine engine = sample::engine({1, 2, 3}, 2);
  const EngineTables tables = engine_tables(engine, {}, 1440);
  CHECK(tables.cycle == doctest::Approx(2 * pi));
  const double major = std::abs(sample::harmonic(gas_torque(tables), 3));
  for (const int order : {1, 2, 4, 5})
    CHECK(std::abs(sample::harmonic(gas_torque(tables), order)) < 1e-11 * major);
}

TEST_CASE("crank angle zero is where cylinder 1 stands in the description") {
  Engine engine = sample::engine({1});
  const EngineTables at_zero = engine_tables(engine, {}, 720);
  CHECK(std::abs(at_zero.fuelled_torque[0]) < 1e-9);  // no lever at top dead centre
  engine.firing_angles = {pi};
  const EngineTables later = engine_tables(engine, {}, 720);
  CHECK(later.fuelled_torque[180 + 30] == at_zero.fuelled_torque[30]);
}

TEST_CASE("threads that share one engine get the same tables") {
  const EngineCycles cycles(sample::engine());
  EngineTables first;
  EngineTables second;
  std::thread one([&] { first = cycles.tables({1, 0, 1, 1}, 2880); });
  std::thread two([&] { second = cycles.tables({1, 0, 1, 1}, 2880); });
  one.join();
  two.join();
  CHECK(first.fuelled_torque == second.fuelled_torque);
  CHECK(first.fuelled_torque == engine_tables(sample::engine(), {1, 0, 1, 1}, 2880).fuelled_torque);
}

TEST_CASE("strengths that do not fit the engine are refused, all faults at once") {
  const EngineCycles cycles(sample::engine());
  CHECK_THROWS_AS(cycles.tables({1, 1}, 720), LineError);
  CHECK_THROWS_AS(cycles.tables({}, 0), LineError);
  try {
    cycles.tables({1, -0.5, std::nan(""), 1}, 720);
    FAIL("accepted");
  } catch (const LineError& error) {
    CHECK(error.faults().size() == 2);
    CHECK(error.faults()[0].path == "strengths[1]");
  }
}

TEST_CASE("an engine that no fuel could bring to its rated torque is refused") {
  Engine engine = sample::engine();
  engine.rated_torque = -500.0;
  CHECK_THROWS_AS(EngineCycles{engine}, LineError);
  engine = sample::engine();
  engine.rated_torque = std::nan("");
  CHECK_THROWS_AS(EngineCycles{engine}, LineError);
}

TEST_CASE("pressures that would let a dead cylinder drive are refused") {
  Engine engine = sample::engine();
  engine.combustion.inlet_pressure = 2.0e5;
  CHECK_THROWS_AS(EngineCycles{engine}, LineError);
  engine.combustion.exhaust_pressure = 2.0e5;
  CHECK_NOTHROW(EngineCycles{engine});
}
