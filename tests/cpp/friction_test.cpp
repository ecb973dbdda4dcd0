#include "calmshaft/engine/friction.hpp"

#include <doctest/doctest.h>

#include <array>
#include <numbers>

#include "sample_engine.hpp"

using namespace calmshaft;

namespace {

constexpr double bar = 1e5;
constexpr double thousand_rpm = 1000.0 * rpm;

}  // namespace

TEST_CASE("petrol friction is 0.97 + 0.15 N + 0.05 N^2 at any stroke") {
  // Barnes-Moss in Heywood ch. 13: value from memory; arithmetic
  const std::array<std::array<double, 2>, 5> rows{{{1, 1.17}, {2, 1.47}, {3, 1.87}, {4, 2.37}, {6, 3.67}}};
  for (const double stroke : {0.07, 0.12}) {
    const EngineFriction friction = default_friction(Fuel::petrol, 4, stroke);
    for (const auto& [n, expected] : rows) {
      CHECK(friction_pressure(friction, stroke, n * thousand_rpm) ==
            doctest::Approx(expected * bar).epsilon(1e-9));
    }
  }
}

TEST_CASE("diesel friction is 1.05 + 0.48 N + 0.004 Sp^2") {
  // Heywood ch. 13: value from memory; arithmetic at 2000 rpm, stroke 0.12 m: Sp = 8 m/s
  const EngineFriction friction = default_friction(Fuel::diesel, 4, 0.12);
  CHECK(friction_pressure(friction, 0.12, 2 * thousand_rpm) ==
        doctest::Approx((1.05 + 0.96 + 0.256) * bar).epsilon(1e-12));
}

TEST_CASE("friction laws of piston speed fit the three terms") {
  // Chen and Flynn 1965, 0.137 + pmax/200 + 0.162 Sp, and the general A + B pmax + C Sp + D Sp^2: constants
  // from memory, arithmetic. At 70 bar and Sp = 10 m/s: 2.107 and 1.74 bar.
  const double stroke = 0.1;
  const double per_piston_speed = stroke / std::numbers::pi;  // [m] Sp over crank speed
  const double speed = 10.0 / per_piston_speed;
  const EngineFriction chen_flynn{(0.137 + 70.0 / 200.0) * bar, 0.162 * bar * per_piston_speed, 0.0};
  CHECK(friction_pressure(chen_flynn, stroke, speed) == doctest::Approx(2.107 * bar).epsilon(1e-9));
  const EngineFriction general{(0.4 + 0.005 * 70.0) * bar, 0.09 * bar * per_piston_speed, 0.0009 * bar};
  CHECK(friction_pressure(general, stroke, speed) == doctest::Approx(1.74 * bar).epsilon(1e-12));
}

TEST_CASE("ten bar on half a litre is 39.79 N m in four strokes and twice that in two") {
  // T = p V / (2 pi turns per cycle): definition of mean effective pressure
  Engine engine = sample::engine({1});
  engine.stroke = 0.1;
  engine.bore = std::sqrt(0.5e-3 / 0.1 * 4.0 / std::numbers::pi);
  engine.friction = {10.0 * bar, 0.0, 0.0};
  CHECK(friction_torque(engine).torque(100.0) == doctest::Approx(39.788736).epsilon(1e-8));
  engine.strokes = 2;
  CHECK(friction_torque(engine).torque(100.0) == doctest::Approx(79.577472).epsilon(1e-8));
}

TEST_CASE("friction torque is the pressure over all cylinders, and its slope a difference quotient") {
  const Engine engine = sample::engine();
  const FrictionTorque friction = friction_torque(engine);
  const double speed = 1800.0 * rpm;
  const double displacement = 4.0 * std::numbers::pi / 4.0 * 0.092 * 0.092 * 0.098;
  CHECK(friction.torque(speed) == doctest::Approx(friction_pressure(engine.friction, engine.stroke, speed) *
                                                  displacement / (4.0 * std::numbers::pi))
                                      .epsilon(1e-12));
  // a central difference of a quadratic is exact; rounding 1e-10
  CHECK(friction.slope(speed) ==
        doctest::Approx((friction.torque(speed + 1) - friction.torque(speed - 1)) / 2).epsilon(1e-10));
}

TEST_CASE("a two-stroke has the friction torque of a four-stroke of its size") {
  // common practice, no source
  const Engine four = sample::engine({1, 2, 3}, 4);
  const Engine two = sample::engine({1, 2, 3}, 2);
  CHECK(friction_torque(two).torque(200.0) == doctest::Approx(friction_torque(four).torque(200.0)));
}
