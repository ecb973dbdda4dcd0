// What the springs of one side of a plate carry, without friction, damping and stop.
#pragma once

#include "calmshaft/line/elements.hpp"

namespace calmshaft {

// T = sum over the stages of k_i (twist within stage i); the last stage runs on. Zero within the free play.
double elastic_torque(const PlateSide& side, double free_play /* [rad] whole width */,
                      double twist /* [rad] from the middle towards this side */);  // [N m]

}  // namespace calmshaft
