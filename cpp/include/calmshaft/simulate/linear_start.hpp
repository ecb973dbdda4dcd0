// The state to march from: the linear solution by orders at the condition's mean torque.
#pragma once

#include <Eigen/Core>
#include <span>

#include "calmshaft/simulate/condition_model.hpp"
#include "calmshaft/simulate/start_state.hpp"

namespace calmshaft {

// Fuelling factor that carries all resistances at the condition's speed; NaN when no cylinder fires.
double balanced_fuelling(const ConditionModel& point, const EngineTables& tables);

// Angles [rad] of the stations, crank at 0, that give the couplings (springs, dampers, meshes) these twists [rad].
Eigen::VectorXd station_angles(const Model& model, std::span<const double> twist);

// Angles, speeds and friction memory at crank angle 0.
StartState linear_start(const ConditionModel& point, const EngineTables& tables, double fuelling);

}  // namespace calmshaft
