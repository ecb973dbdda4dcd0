#include "calmshaft/measure/shares.hpp"

#include <algorithm>
#include <cstddef>

#include "calmshaft/measure/node_times.hpp"

namespace calmshaft {
namespace {

// Part of an interval in which a straight line from `start` to `end` is above zero.
double positive_part(double start, double end) {
  const double above_start = std::max(start, 0.0);
  const double above_end = std::max(end, 0.0);
  if (above_start == 0.0 && above_end == 0.0) return 0.0;
  if (start >= 0.0 && end >= 0.0) return 1.0;
  return (above_start + above_end) / (above_start + above_end - std::min(start, 0.0) - std::min(end, 0.0));
}

}  // namespace

ContactShares contact_shares(std::span<const double> twist, std::span<const double> time,
                             double half_backlash) {
  check_node_times("contact shares", twist, time);
  double drive = 0.0;  // [s]
  double coast = 0.0;  // [s]
  for (std::size_t i = 1; i < twist.size(); ++i) {
    const double duration = time[i] - time[i - 1];
    drive += duration * positive_part(twist[i - 1] - half_backlash, twist[i] - half_backlash);
    coast += duration * positive_part(-half_backlash - twist[i - 1], -half_backlash - twist[i]);
  }
  const double period = time.back() - time.front();
  drive /= period;
  coast /= period;
  return {drive, std::max(0.0, 1.0 - drive - coast), coast};
}

}  // namespace calmshaft
