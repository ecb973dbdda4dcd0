// Numbers used in more than one room.
#pragma once

#include <numbers>

namespace calmshaft {

inline constexpr double two_pi = 2.0 * std::numbers::pi;
inline constexpr double rpm = two_pi / 60.0;  // [rad/s] one turn per minute

}  // namespace calmshaft
