// How the fuelling follows the speed: a governor with droop and lag, and what it must give at a speed held.
#pragma once

#include "calmshaft/simulate/condition_model.hpp"
#include "calmshaft/simulate/schedule.hpp"

namespace calmshaft {

struct Governor {
  double droop = 0.06;         // [-] fall of speed from no to rated torque, over rated speed
  double lag = 0.1;            // [s] time constant of the actuator
  double most_fuelling = 1.1;  // [-] stop of the rack; 1 gives rated torque at rated speed
  bool follows_speed = true;   // false: fixed fuelling, what the speed asked for needs on average
};

// The fuelling s that carries the line at a steady or evenly changing mean speed w:
//   s = (R(w) + J dw/dt - T_0) / F     R resistance, J all inertia, T_0 and F mean torque without and of fuel, at the
//   crank
class MeanBalance {
 public:
  MeanBalance(const ConditionModel& point, const EngineTables& tables);
  double fuelling(double speed /* [rad/s] */, double acceleration /* [rad/s^2] */) const;  // [-]
  double motoring_torque(double speed) const { return resistance(speed) - base_torque_; }  // [N m] without fuel
  // Greatest torque that the compression takes [N m].
  double compression_torque() const { return compression_torque_; }
  bool fires() const { return fuelled_torque_ > 0; }

 private:
  // The laws of all resistances are constant, linear and square in the speed, so three values give them all.
  double resistance(double speed) const { return constant_ + speed * (linear_ + speed * square_); }

  double constant_ = 0, linear_ = 0, square_ = 0;  // [N m], [N m s/rad], [N m s^2/rad^2]
  double inertia_ = 0;                             // [kg m^2] at the crank
  double base_torque_ = 0, fuelled_torque_ = 0;    // [N m]
  double compression_torque_ = 0;                  // [N m]
};

// The fuelling that the governor wants at a crank speed: what carries the speed asked for, corrected by the error
// over the droop. A lever that moves takes the first part with it, so that run-ups keep their rate.
//   s = s(w_asked, dw_asked/dt) + (w_asked - w) / (droop w_rated)
double wanted_fuelling(const Governor& governor, const MeanBalance& balance, const TrackPiece& asked,
                       double rated_speed, double time, double speed);

}  // namespace calmshaft
