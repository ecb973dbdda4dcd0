#include "calmshaft/line/plate_torque.hpp"

#include <algorithm>
#include <cstddef>

namespace calmshaft {

double elastic_torque(const PlateSide& side, double free_play, double twist) {
  double torque = 0.0;
  double begin = 0.5 * free_play;
  for (std::size_t i = 0; i < side.stages.size() && twist > begin; ++i) {
    const bool last = i + 1 == side.stages.size();
    const double end = last ? twist : std::min(twist, side.stages[i].until);
    torque += side.stages[i].stiffness * (end - begin);
    begin = side.stages[i].until;
  }
  return torque;
}

}  // namespace calmshaft
