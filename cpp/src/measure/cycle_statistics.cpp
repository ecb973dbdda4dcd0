#include "calmshaft/measure/cycle_statistics.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>
#include <stdexcept>

namespace calmshaft {
namespace {

constexpr double unknown = std::numeric_limits<double>::quiet_NaN();

// s / sqrt(n), s the standard deviation of a sample: s^2 = sum of (x - mean)^2 / (n - 1).
double standard_error(std::span<const double> values, double mean) {
  if (values.size() < 2) return unknown;
  double squares = 0.0;
  for (const double value : values) squares += (value - mean) * (value - mean);
  const double count = static_cast<double>(values.size());
  return std::sqrt(squares / (count - 1.0) / count);
}

}  // namespace

CycleStatistics cycle_statistics(std::span<const double> values) {
  if (values.empty()) throw std::invalid_argument("cycle statistics: there are no cycles; give at least one");
  const int cycles = static_cast<int>(values.size());
  const double mean = std::accumulate(values.begin(), values.end(), 0.0) / cycles;
  if (std::isnan(mean)) return {unknown, unknown, unknown, unknown, cycles};
  const auto [lowest, highest] = std::minmax_element(values.begin(), values.end());
  return {mean, *lowest, *highest, standard_error(values, mean), cycles};
}

}  // namespace calmshaft
