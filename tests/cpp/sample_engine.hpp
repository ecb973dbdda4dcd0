// An invented four-cylinder diesel, and plain sums, for the tests of the engine room.
#pragma once

#include <cmath>
#include <complex>
#include <cstddef>
#include <numbers>
#include <vector>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/engine/firing.hpp"
#include "calmshaft/engine/fuel_defaults.hpp"
#include "calmshaft/line/elements.hpp"

namespace calmshaft::sample {

constexpr double degree = std::numbers::pi / 180.0;  // [rad]

inline Engine engine(const std::vector<int>& order = {1, 3, 4, 2}, int strokes = 4,
                     Fuel fuel = Fuel::diesel) {
  Engine engine;
  engine.strokes = strokes;
  engine.fuel = fuel;
  engine.firing_angles = firing_angles(order, strokes);
  engine.bore = 0.092;
  engine.stroke = 0.098;
  engine.rod_length = 0.16;
  engine.compression_ratio = fuel == Fuel::diesel ? 18.5 : 9.0;
  engine.piston_mass = 0.95;
  engine.rod_mass = 1.1;
  engine.rod_centre_from_big_end = 0.052;
  engine.rod_inertia = 0.0055;
  engine.crank_inertia = 0.055;
  engine.rated_torque = 165.0 / 4.0 * static_cast<double>(order.size());
  engine.rated_speed = 2600.0 * rpm;
  engine.combustion = default_combustion(fuel, strokes);
  engine.friction = default_friction(fuel, strokes, engine.stroke);
  return engine;
}

inline double mean(const std::vector<double>& values) {
  double sum = 0.0;
  for (const double value : values) sum += value;
  return sum / static_cast<double>(values.size());
}

// Coefficient c of the harmonic c exp(i k x), k periods over the table; amplitude is 2 |c|.
inline std::complex<double> harmonic(const std::vector<double>& values, int k) {
  std::complex<double> sum = 0.0;
  const auto count = static_cast<double>(values.size());
  for (std::size_t j = 0; j < values.size(); ++j) {
    sum += values[j] * std::polar(1.0, -two_pi * k * static_cast<double>(j) / count);
  }
  return sum / count;
}

}  // namespace calmshaft::sample
