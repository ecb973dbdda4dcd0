#include "calmshaft/engine/friction.hpp"

#include <numbers>

#include "calmshaft/engine/cylinder_volume.hpp"

namespace calmshaft {

namespace {

// Mean piston speed over crank speed [m/rad]: two strokes a turn.
double piston_speed_per_speed(double stroke) { return stroke / std::numbers::pi; }

}  // namespace

double friction_pressure(const EngineFriction& friction, double stroke, double speed) {
  const double piston_speed = piston_speed_per_speed(stroke) * speed;
  return friction.constant + friction.per_speed * speed +
         friction.per_piston_speed_squared * piston_speed * piston_speed;
}

// T = p_f * swept volume of all cylinders / angle of the cycle
FrictionTorque friction_torque(const Engine& engine) {
  const double displacement =
      static_cast<double>(engine.firing_angles.size()) * swept_volume(engine.bore, engine.stroke);
  const double per_pressure = displacement / cycle_angle(engine.strokes);  // [N m/Pa]
  const double piston_speed = piston_speed_per_speed(engine.stroke);
  const EngineFriction& friction = engine.friction;
  return {per_pressure * friction.constant, per_pressure * friction.per_speed,
          per_pressure * friction.per_piston_speed_squared * piston_speed * piston_speed};
}

}  // namespace calmshaft
