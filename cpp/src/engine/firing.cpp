#include "calmshaft/engine/firing.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>
#include <string>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/engine/cylinder_volume.hpp"

namespace calmshaft {

namespace {

std::string written(const std::vector<int>& order) {
  std::string text;
  for (const int cylinder : order) text += (text.empty() ? "" : ", ") + std::to_string(cylinder);
  return "[" + text + "]";
}

void require_each_once(const std::vector<int>& order) {
  std::vector<int> wanted(order.size());
  std::iota(wanted.begin(), wanted.end(), 1);
  if (!order.empty() && std::is_permutation(order.begin(), order.end(), wanted.begin())) return;
  const std::string advice = order.empty() ? "write the cylinder numbers in the order in which they fire"
                                           : "write each of 1 to " + std::to_string(order.size()) + " once";
  throw LineError({{"engine.firing_order", written(order), "must name every cylinder exactly once", advice}});
}

}  // namespace

std::vector<double> firing_angles(const std::vector<int>& order, int strokes) {
  require_each_once(order);
  const std::size_t count = order.size();
  const auto first = static_cast<std::size_t>(std::find(order.begin(), order.end(), 1) - order.begin());
  std::vector<double> angles(count);
  for (std::size_t place = 0; place < count; ++place) {
    const auto after_first = static_cast<double>((place + count - first) % count);
    angles[static_cast<std::size_t>(order[place] - 1)] =
        after_first * cycle_angle(strokes) / static_cast<double>(count);
  }
  return angles;
}

std::complex<double> firing_phasor(double order, const std::vector<double>& angles,
                                   const std::vector<double>& strengths) {
  std::complex<double> sum = 0.0;
  for (std::size_t i = 0; i < angles.size(); ++i) {
    sum += std::polar(1.0, order * angles[i]) * (strengths.empty() ? 1.0 : strengths[i]);
  }
  return sum;
}

}  // namespace calmshaft
