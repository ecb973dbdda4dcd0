#include "calmshaft/measure/extremes.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>

namespace calmshaft {
namespace {

// Four neighbouring samples, times the sign that turns a valley into a peak.
struct Window {
  double before, here, after, beyond;

  // A level stretch is no peak: open teeth carry exactly zero torque, and a parabola laid over the end
  // of that stretch would report a torque that never was. Two equal samples around a top still count.
  bool is_peak() const { return here > before && (here > after || (here == after && after > beyond)); }

  // Top of the parabola through three samples a, b, c: b - (c - a)^2 / (8 (a - 2 b + c)).
  double top() const {
    const double slope = after - before;
    return here - slope * slope / (8.0 * (before - 2.0 * here + after));
  }

  Window reversed() const { return {-before, -here, -after, -beyond}; }
};

// Once NaN, the range stays NaN: min and max return their first argument when a comparison fails.
void include(double value, Extremes& range) {
  if (std::isnan(value)) range = {value, value};
  range.least = std::min(range.least, value);
  range.greatest = std::max(range.greatest, value);
}

void include_turning_point(const Window& window, Extremes& range) {
  include(window.here, range);
  if (window.is_peak()) include(window.top(), range);
  if (window.reversed().is_peak()) include(-window.reversed().top(), range);
}

}  // namespace

Extremes extremes(std::span<const double> samples, bool periodic) {
  if (samples.empty()) throw std::invalid_argument("extremes: there are no samples; give at least one");
  const std::size_t count = samples.size();
  Extremes range{samples.front(), samples.front()};
  include(samples.back(), range);
  if (count < 3) return range;

  const auto turn_at = [&](std::size_t i) {
    const std::size_t after = (i + 1) % count;
    const double beyond = periodic || after + 1 < count ? samples[(i + 2) % count] : samples[after];
    include_turning_point({samples[(i + count - 1) % count], samples[i], samples[after], beyond}, range);
  };
  for (std::size_t i = 1; i + 1 < count; ++i) {
    const bool passes_through = (samples[i] - samples[i - 1]) * (samples[i + 1] - samples[i]) > 0.0;
    if (!passes_through) turn_at(i);  // also where NaN makes the comparison fail
  }
  if (periodic) {
    turn_at(0);
    turn_at(count - 1);
  }
  return range;
}

}  // namespace calmshaft
