// What a march begins with, and hands on at its end.
#pragma once

#include <array>

#include "calmshaft/model/dynamics.hpp"

namespace calmshaft {

struct StartState {
  std::array<double, most_state> state{};           // [s, rad, rad/s, J] in the order of ModelOf, at crank angle 0
  FrictionMemory<double> friction[most_dampers]{};  // [rad]
  double speed = 0;                                 // [rad/s] mean crank speed that it belongs to
  int stations = 0;                                 // 0: there is none
  int dampers = 0;
};

}  // namespace calmshaft
