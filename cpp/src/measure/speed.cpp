#include "calmshaft/measure/speed.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <vector>

#include "calmshaft/measure/extremes.hpp"
#include "calmshaft/measure/node_times.hpp"

namespace calmshaft {

double time_mean(std::span<const double> values, std::span<const double> time) {
  check_node_times("time mean", values, time);
  double integral = 0.0;  // [unit of the values * s], by the trapezoidal rule
  for (std::size_t i = 1; i < values.size(); ++i)
    integral += 0.5 * (values[i - 1] + values[i]) * (time[i] - time[i - 1]);
  return integral / (time.back() - time.front());
}

double cyclic_irregularity(std::span<const double> speed, std::span<const double> time) {
  const double mean = time_mean(speed, time);
  if (mean == 0.0)
    throw std::invalid_argument("cyclic irregularity: the mean speed is zero; give a shaft that turns");
  return extremes(speed.first(speed.size() - 1), true).ripple() / std::fabs(mean);
}

double peak_angular_acceleration(std::span<const double> speed, std::span<const double> time) {
  check_node_times("angular acceleration", speed, time);
  std::vector<double> slopes;  // [rad/s^2] in the middle of each interval
  slopes.reserve(speed.size() - 1);
  for (std::size_t i = 1; i < speed.size(); ++i)
    slopes.push_back((speed[i] - speed[i - 1]) / (time[i] - time[i - 1]));
  const Extremes range = extremes(slopes, true);
  return std::max(std::fabs(range.least), std::fabs(range.greatest));
}

}  // namespace calmshaft
