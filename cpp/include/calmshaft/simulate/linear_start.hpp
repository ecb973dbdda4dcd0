// The state to march from: the linear solution by orders at the condition's mean torque.
#pragma once

#include "calmshaft/simulate/condition_model.hpp"
#include "calmshaft/simulate/cycle.hpp"

namespace calmshaft {

// Fuelling factor that carries all resistances at the condition's speed; NaN when no cylinder fires.
double balanced_fuelling(const ConditionModel& point, const EngineTables& tables);

// Sets angles, speeds and friction memory of `runner` at crank angle 0.
void set_linear_start(const ConditionModel& point, const EngineTables& tables, CycleRunner& runner);

}  // namespace calmshaft
