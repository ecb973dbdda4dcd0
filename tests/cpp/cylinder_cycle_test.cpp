// Expected figures: closed forms of ideal cycles, worked out apart from this code; sources beside each.
#include "calmshaft/engine/cylinder_cycle.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

#include "sample_engine.hpp"

using namespace calmshaft;
using sample::degree;
using std::numbers::pi;

namespace {

constexpr double bar = 1e5;

// Otto cycle: closed from one bottom dead centre to the next, all heat at once at top dead centre.
Engine otto_engine(double ratio, double exponent) {
  Engine engine = sample::engine({1});
  engine.bore = 0.08;
  engine.stroke = 0.09;
  engine.rod_length = 0.145;
  engine.compression_ratio = ratio;
  engine.combustion = {0.0, 1e-6, 40.0, 0.5, exponent, bar, bar, -pi, pi};
  return engine;
}

double work_per_heat(const Engine& engine) {
  const CylinderCycle cycle(engine);
  return cycle.mean().fired * cycle.angle();
}

CylinderTorque mean_torque(int strokes, double exhaust_opens, double inlet_closes) {
  Engine engine = sample::engine({1}, strokes, Fuel::petrol);
  engine.combustion.exhaust_opens = exhaust_opens * degree;
  engine.combustion.inlet_closes = inlet_closes * degree;
  return CylinderCycle(engine).mean();
}

// Simpson's rule for the work of the trapped charge between two angles.
double trapped_work(const CylinderCycle& cycle, double begin, double end) {
  constexpr int steps = 4000;
  const double h = (end - begin) / steps;
  double sum = cycle.torque(begin).trapped + cycle.torque(end).trapped;
  for (int i = 1; i < steps; ++i) sum += (i % 2 == 1 ? 4.0 : 2.0) * cycle.torque(begin + i * h).trapped;
  return sum * h / 3.0;
}

}  // namespace

TEST_CASE("instant burning gives the Otto efficiency") {
  // 1 - r^(1-g), g = 1.4: ideal cycle. Burning over 1e-6 rad and exp(-40) unburnt stay below 1e-9.
  CHECK(work_per_heat(otto_engine(6, 1.4)) == doctest::Approx(0.5116406581).epsilon(1e-9));
  CHECK(work_per_heat(otto_engine(8, 1.4)) == doctest::Approx(0.5647247184).epsilon(1e-9));
  CHECK(work_per_heat(otto_engine(10, 1.4)) == doctest::Approx(0.6018928294).epsilon(1e-9));
  CHECK(work_per_heat(otto_engine(12, 1.4)) == doctest::Approx(0.6298928275).epsilon(1e-9));
  CHECK(work_per_heat(otto_engine(18, 1.4)) == doctest::Approx(0.6853041629).epsilon(1e-9));
}

TEST_CASE("an Otto cycle of given charge has its mean effective pressure") {
  // Data of a Cengel and Boles problem (r = 8, 100 kPa, 290 K, 800 kJ/kg) with constant cv = 718 J/(kg K) and
  // R = 0.4 cv: 619.921 kPa, printed to six digits.
  const Engine engine = otto_engine(8, 1.4);
  const double swept = swept_volume(engine.bore, engine.stroke);
  const double mass = 100e3 * swept * 8.0 / 7.0 / (0.4 * 718.0 * 290.0);
  CHECK(work_per_heat(engine) * 800e3 * mass / swept == doctest::Approx(619.921e3).epsilon(2e-6));
}

TEST_CASE("work per heat is the burnt fraction less what the gas keeps") {
  // First law, by parts: work = x - V^(1-n) * integral of V^(n-1) dx when the exhaust opens at bottom dead
  // centre; the integral by a midpoint sum over the burnt fraction (error 1e-8).
  Engine engine = sample::engine({1});
  engine.combustion.exhaust_opens = pi;
  const CylinderVolume cylinder = cylinder_volume(engine);
  const Wiebe burn = wiebe(engine.combustion);
  const double n = engine.combustion.polytropic_exponent;
  constexpr int steps = 100000;
  double kept = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double begin = burn.start + burn.duration * i / steps;
    const double end = burn.start + burn.duration * (i + 1) / steps;
    kept += std::pow(cylinder.at(0.5 * (begin + end)) / cylinder.at(pi), n - 1.0) *
            (wiebe_burnt_fraction(burn, end) - wiebe_burnt_fraction(burn, begin));
  }
  CHECK(work_per_heat(engine) == doctest::Approx(wiebe_burnt_fraction(burn, pi) - kept).epsilon(1e-8));
}

TEST_CASE("compression takes its polytropic work and expansion gives it back") {
  // p1 V1 (r^(n-1) - 1) / (n-1) = 177.8997590 J at r = 10, n = 1.35, 1 bar
  const CylinderCycle cycle(otto_engine(10, 1.35));
  CHECK(trapped_work(cycle, -pi, 0.0) == doctest::Approx(-177.8997590).epsilon(1e-8));
  CHECK(std::abs(trapped_work(cycle, -pi, pi)) < 1e-8 * 177.9);
}

TEST_CASE("a motored cylinder at one pressure throughout neither drives nor brakes") {
  const CylinderTorque mean = CylinderCycle(otto_engine(10, 1.35)).mean();
  CHECK(std::abs(mean.open + mean.trapped) < 1e-9 * bar * swept_volume(0.08, 0.09));
}

TEST_CASE("a motored cylinder never drives the engine") {
  for (const double opens : {100.0, 120.0, 140.0, 170.0}) {
    CAPTURE(opens);
    for (const double closes : {-180.0, -150.0, -130.0}) {
      CAPTURE(closes);
      const CylinderTorque mean = mean_torque(4, opens, closes);
      // a petrol engine's charge falls with load
      for (const double charge : {0.1, 0.4, 1.0}) CHECK(mean.open + charge * mean.trapped <= 0.0);
    }
    for (const double closes : {-130.0, -115.0, -105.0}) {
      CAPTURE(closes);
      const CylinderTorque mean = mean_torque(2, opens, closes);
      CHECK(mean.open + mean.trapped <= 0.0);
    }
  }
}

TEST_CASE("a motored two-stroke with piston-controlled ports brakes a little at any charge") {
  // the charge expands below inlet pressure before it is replaced; bound of 0.05 bar: common practice, no source
  const CylinderTorque mean = CylinderCycle(sample::engine({1}, 2, Fuel::petrol)).mean();
  for (const double charge : {0.1, 0.4, 1.0}) {
    CHECK(mean.open + charge * mean.trapped < 0.0);
    CHECK(mean.open + charge * mean.trapped > -0.05 * bar * swept_volume(0.092, 0.098) / cycle_angle(2));
  }
}

TEST_CASE("mean torque is the indicated work over the cycle's angle") {
  // Independent of crank-angle quadrature: sum of p dV by the trapezoidal rule; error of second order, 1e-6.
  for (const int strokes : {2, 4}) {
    const Engine engine = sample::engine({1}, strokes);
    const CylinderPressure pressure(engine);
    const CylinderCycle cycle(engine);
    const double heat = 1500.0;
    const auto total = [&](double angle) {
      const PressureParts parts = pressure.at(angle);
      return parts.open + parts.trapped + heat * parts.per_heat;
    };
    constexpr int steps = 40000;
    double work = 0.0;
    for (int i = 0; i < steps; ++i) {
      const double begin = cycle.angle() * i / steps;
      const double end = cycle.angle() * (i + 1) / steps;
      work += 0.5 * (total(begin) + total(end)) * (pressure.volume().at(end) - pressure.volume().at(begin));
    }
    const CylinderTorque mean = cycle.mean();
    CHECK(mean.open + mean.trapped + heat * mean.fired ==
          doctest::Approx(work / cycle.angle()).epsilon(1e-6));
  }
}

TEST_CASE("torque is pressure over crankcase pressure times area and piston slope") {
  const Engine engine = sample::engine();
  const CylinderCycle cycle(engine);
  const double angle = 250 * degree;  // exhaust stroke
  const double expected = (engine.combustion.exhaust_pressure - 1.01325e5) * piston_area(engine.bore) *
                          piston_motion(slider_crank(engine), angle).slope;
  CHECK(cycle.torque(angle).open == doctest::Approx(expected).epsilon(1e-12));
  CHECK(cycle.torque(angle).open < 0.0);  // pushing the gas out takes torque
}
