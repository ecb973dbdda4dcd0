// Engine friction: mean effective pressure of the description, torque at the crank.
#pragma once

#include "calmshaft/line/elements.hpp"

namespace calmshaft {

// Mean effective friction pressure [Pa] at a crank speed.
double friction_pressure(const EngineFriction& friction, double stroke /* [m] */, double speed /* [rad/s] */);

struct FrictionTorque {
  double constant;           // [N m]
  double per_speed;          // [N m s/rad]
  double per_speed_squared;  // [N m s^2/rad^2]

  // At a crank speed [rad/s], zero or more: torque [N m] against the turning, and its slope [N m s/rad].
  double torque(double speed) const { return constant + speed * (per_speed + speed * per_speed_squared); }
  double slope(double speed) const { return per_speed + 2.0 * speed * per_speed_squared; }
};

// Of the whole engine, the same at every crank angle.
FrictionTorque friction_torque(const Engine& engine);

}  // namespace calmshaft
