#include "calmshaft/engine/fuel_defaults.hpp"

#include <numbers>

#include "calmshaft/core/constants.hpp"

namespace calmshaft {

namespace {

using std::numbers::pi;

constexpr double degree = pi / 180.0;          // [rad]
constexpr double bar = 1e5;                    // [Pa]
constexpr double thousand_rpm = 1000.0 * rpm;  // [rad/s]

}  // namespace

// Burn shapes and the polytropic exponent: values from memory of Heywood, Internal Combustion Engine
// Fundamentals. Pressures and timing: common practice, no source; a port that the piston opens at 110 degrees
// it closes at -110.
Combustion default_combustion(Fuel fuel, int strokes) {
  Combustion combustion{};
  if (fuel == Fuel::diesel) {
    combustion.burn_start = -2.0 * degree;
    combustion.burn_duration = 50.0 * degree;
    combustion.burn_coefficient = 6.9;
    combustion.burn_exponent = 0.7;
  } else {
    combustion.burn_start = -20.0 * degree;
    combustion.burn_duration = 60.0 * degree;
    combustion.burn_coefficient = 5.0;
    combustion.burn_exponent = 2.0;
  }
  const bool four_stroke = strokes == 4;
  combustion.polytropic_exponent = 1.35;
  combustion.inlet_pressure = (four_stroke ? 1.0 : 1.2) * bar;  // a two-stroke is blown through
  combustion.exhaust_pressure = 1.05 * bar;
  combustion.inlet_closes = (four_stroke ? -180.0 : -110.0) * degree;
  combustion.exhaust_opens = (four_stroke ? 130.0 : 110.0) * degree;
  return combustion;
}

// Values from memory of Heywood, ch. 13; N in thousand rpm, S_p mean piston speed in m/s, pressure in bar:
// diesel 1.05 + 0.48 N + 0.004 S_p^2, petrol 0.97 + 0.15 N + 0.05 N^2, both for four strokes.
// A two-stroke spreads its work over one turn instead of two: half the pressure is the same torque.
EngineFriction default_friction(Fuel fuel, int strokes, double stroke) {
  const double unit = (strokes == 4 ? 1.0 : 0.5) * bar;
  if (fuel == Fuel::diesel) return {1.05 * unit, 0.48 * unit / thousand_rpm, 0.004 * unit};
  const double piston_speed = stroke / pi * thousand_rpm;  // [m/s] at 1000 rpm
  return {0.97 * unit, 0.15 * unit / thousand_rpm, 0.05 * unit / (piston_speed * piston_speed)};
}

}  // namespace calmshaft
