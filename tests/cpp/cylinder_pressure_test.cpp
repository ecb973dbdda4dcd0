// Expected figures: closed forms of ideal cycles (Heywood ch. 5, from memory), worked out apart from this
// code.
#include "calmshaft/engine/cylinder_pressure.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "sample_engine.hpp"

using namespace calmshaft;
using sample::degree;
using std::numbers::pi;

namespace {

constexpr double bar = 1e5;

// Closed from one bottom dead centre to the next, 1 bar when it closes.
Engine ideal_engine() {
  Engine engine = sample::engine({1});
  engine.bore = 0.08;
  engine.stroke = 0.09;
  engine.rod_length = 0.145;
  engine.compression_ratio = 10.0;
  engine.combustion.polytropic_exponent = 1.35;
  engine.combustion.inlet_pressure = bar;
  engine.combustion.exhaust_pressure = bar;
  engine.combustion.inlet_closes = -pi;
  engine.combustion.exhaust_opens = pi;
  return engine;
}

}  // namespace

TEST_CASE("polytropic compression has its known ratios") {
  CHECK(polytropic_pressure(1.0, 10.0, 1.0, 1.35) == doctest::Approx(22.387211).epsilon(1e-7));
  CHECK(polytropic_pressure(1.0, 16.0, 1.0, 1.32) == doctest::Approx(38.854236).epsilon(1e-7));
  CHECK(polytropic_pressure(1.0, 18.0, 1.0, 1.35) == doctest::Approx(49.501446).epsilon(1e-7));
  CHECK(polytropic_pressure(1.0, 8.0, 1.0, 1.3) == doctest::Approx(14.928528).epsilon(1e-7));
}

TEST_CASE("motored pressure of the closed cycle is polytropic at every angle") {
  const CylinderPressure pressure(ideal_engine());
  const double rows[][2] = {{0, 22.387211}, {30, 10.290139}, {60, 3.713984},
                            {90, 1.900049}, {120, 1.289465}, {150, 1.060720}};
  for (const auto& [degrees, expected] : rows) {
    for (const double side : {-1.0, 1.0}) {
      const PressureParts parts = pressure.at(side * degrees * degree);
      CHECK(parts.trapped == doctest::Approx(expected * bar).epsilon(4e-7));  // printed to six decimals
      CHECK(parts.open == 0.0);
    }
  }
}

TEST_CASE("heat raises the pressure as the first law asks") {
  // dp_f = -n p_f/V dV + (n-1)/V dQ, by a central difference: error of third order, 1e-7 of the steepest rise
  const Engine engine = sample::engine();
  const CylinderPressure pressure(engine);
  const Wiebe burn = wiebe(engine.combustion);
  const double n = engine.combustion.polytropic_exponent;
  const double h = 1e-5;
  for (const double degrees : {5.0, 12.0, 30.0, 47.0, 60.0, 120.0}) {
    CAPTURE(degrees);
    const double angle = degrees * degree;
    const double volume = pressure.volume().at(angle);
    const double volume_slope = (pressure.volume().at(angle + h) - pressure.volume().at(angle - h)) / (2 * h);
    const double slope = (pressure.at(angle + h).per_heat - pressure.at(angle - h).per_heat) / (2 * h);
    const double expected =
        (-n * pressure.at(angle).per_heat * volume_slope + (n - 1) * wiebe_burn_rate(burn, angle)) / volume;
    CHECK(std::abs(slope - expected) < 1e-6 * (n - 1) / volume);
  }
}

TEST_CASE("instant burning at top dead centre raises the pressure at constant volume") {
  // p3 - p2 = (n-1) Q / V_clearance; burning over 1e-6 rad moves the volume by less than 1e-11
  Engine engine = ideal_engine();
  engine.combustion.burn_start = 0.0;
  engine.combustion.burn_duration = 1e-6;
  engine.combustion.burn_coefficient = 40.0;  // burns all but exp(-40)
  engine.combustion.burn_exponent = 0.5;
  const CylinderPressure pressure(engine);
  CHECK(pressure.at(-1e-9).per_heat == 0.0);
  CHECK(pressure.at(1e-6).per_heat == doctest::Approx(0.35 / pressure.volume().clearance).epsilon(1e-9));
}

TEST_CASE("exhaust and inlet pressures hold on their strokes") {
  Engine engine = sample::engine();
  engine.combustion.exhaust_pressure = 1.2 * bar;
  engine.combustion.inlet_pressure = 0.9 * bar;
  const CylinderPressure pressure(engine);
  for (const double degrees : {181.0, 270.0, 339.0}) {
    CHECK(pressure.at(degrees * degree).open == 1.2 * bar);
    CHECK(pressure.at(degrees * degree).trapped == 0.0);
    CHECK(pressure.at(degrees * degree).per_heat == 0.0);
  }
  for (const double degrees : {381.0, 450.0, 539.0, -181.0}) {
    CHECK(pressure.at(degrees * degree).open == 0.0);
    CHECK(pressure.at(degrees * degree).trapped == 0.9 * bar);
  }
}

TEST_CASE("pressure never jumps and repeats every cycle") {
  for (const int strokes : {2, 4}) {
    Engine engine = sample::engine({1}, strokes);
    if (strokes == 4) engine.combustion.inlet_closes = -140 * degree;
    const CylinderPressure pressure(engine);
    const double heat = 1500.0;
    const auto total = [&](double angle) {
      const PressureParts parts = pressure.at(angle);
      return parts.open + parts.trapped + heat * parts.per_heat;
    };
    const double step = 1e-5;
    double before = total(-1.0);
    double greatest = 0.0;
    for (double angle = -1.0; angle < pressure.cycle() - 1.0; angle += step) {
      const double now = total(angle);
      greatest = std::max(greatest, std::abs(now - before));
      before = now;
    }
    CHECK(greatest <
          40e6 * step);  // steepest rise of the burn: about 30 MPa/rad; the smallest jump would be 5 kPa
    CHECK(total(0.3 + pressure.cycle()) == doctest::Approx(total(0.3)).epsilon(1e-12));
    CHECK(total(3.0 - 2 * pressure.cycle()) == doctest::Approx(total(3.0)).epsilon(1e-12));
  }
}

TEST_CASE("the release after the exhaust opens begins and ends without a kink") {
  const Engine engine = sample::engine();
  const CylinderPressure pressure(engine);
  const double h = 1e-4;
  for (const double angle : {engine.combustion.exhaust_opens, pi}) {
    const auto per_heat = [&](double at) { return pressure.at(at).per_heat; };
    const double kink = (per_heat(angle + h) - 2 * per_heat(angle) + per_heat(angle - h)) / h;
    CHECK(std::abs(kink) < 1e-3 * per_heat(engine.combustion.exhaust_opens));
  }
}

TEST_CASE("a two-stroke is open from exhaust opening to inlet closing in one turn") {
  const Engine engine = sample::engine({1}, 2);
  const CylinderPressure pressure(engine);
  CHECK(pressure.cycle() == doctest::Approx(2 * pi));
  CHECK(pressure.at(pi).open == doctest::Approx(engine.combustion.exhaust_pressure));
  CHECK(pressure.at(pi).trapped == 0.0);
  CHECK(pressure.at(engine.combustion.inlet_closes - 1e-9).trapped ==
        doctest::Approx(engine.combustion.inlet_pressure).epsilon(1e-8));
  CHECK(pressure.at(100 * degree).open == 0.0);
}
