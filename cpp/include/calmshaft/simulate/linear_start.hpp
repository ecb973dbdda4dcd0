// The state to march from: the linear solution by orders at the condition's mean torque.
#pragma once

#include <array>

#include "calmshaft/simulate/condition_model.hpp"
#include "calmshaft/model/dynamics.hpp"

namespace calmshaft {

// Fuelling factor that carries all resistances at the condition's speed; NaN when no cylinder fires.
double balanced_fuelling(const ConditionModel& point, const EngineTables& tables);

struct StartState {
  std::array<double, most_state> state{};  // [s, rad, rad/s, J] in the order of ModelOf
  FrictionMemory<double> friction[most_dampers]{};  // [rad]
};

// Angles, speeds and friction memory at crank angle 0.
StartState linear_start(const ConditionModel& point, const EngineTables& tables, double fuelling);

}  // namespace calmshaft
