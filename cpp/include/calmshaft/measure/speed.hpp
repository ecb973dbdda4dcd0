// How unevenly a shaft turns over one period.
// `speed` [rad/s] and `time` [s] are the nodes from the start to the end of the period, both included.
// All throw std::invalid_argument when sizes differ, there is no interval, or time does not go forward.
#pragma once

#include <span>

namespace calmshaft {

// Mean over time [unit of the values], straight between nodes.
double time_mean(std::span<const double> values, std::span<const double> time);

// Coefficient of cyclic irregularity [-]: (greatest - least speed) / |time mean|.
// Throws std::invalid_argument when the mean speed is zero: the ratio has no meaning there.
double cyclic_irregularity(std::span<const double> speed, std::span<const double> time);

// Greatest magnitude of the angular acceleration [rad/s^2], from the slope of the speed between nodes.
double peak_angular_acceleration(std::span<const double> speed, std::span<const double> time);

}  // namespace calmshaft
