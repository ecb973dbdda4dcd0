#include "calmshaft/simulate/governor.hpp"

#include <algorithm>

#include "calmshaft/core/number.hpp"

namespace calmshaft {

MeanBalance::MeanBalance(const ConditionModel& point, const EngineTables& tables)
    : inertia_(point.mean_crank_inertia),
      base_torque_(mean_of(tables.base_torque)),
      fuelled_torque_(mean_of(tables.fuelled_torque)),
      compression_torque_(-*std::min_element(tables.base_torque.begin(), tables.base_torque.end())) {
  const Model& model = point.model;
  for (int i = 1; i < model.stations; ++i) inertia_ += model.inertia[i] * model.speed_ratio[i] * model.speed_ratio[i];
  const double unit = point.prepared.line().engine.rated_speed / 3.0;  // Newton's differences over even steps
  const double first = mean_state(model, unit).resistance;
  const double second = mean_state(model, 2.0 * unit).resistance;
  const double third = mean_state(model, 3.0 * unit).resistance;
  square_ = (third - 2.0 * second + first) / (2.0 * unit * unit);
  linear_ = (second - first) / unit - 3.0 * unit * square_;
  constant_ = first - unit * (linear_ + unit * square_);
}

double MeanBalance::fuelling(double speed, double acceleration) const {
  return (resistance(speed) + inertia_ * acceleration - base_torque_) / fuelled_torque_;
}

double wanted_fuelling(const Governor& governor, const MeanBalance& balance, const TrackPiece& asked,
                       double rated_speed, double time, double speed) {
  const double asked_speed = asked.at(time);
  const double error = governor.follows_speed ? (asked_speed - speed) / (governor.droop * rated_speed) : 0.0;
  return limited(balance.fuelling(asked_speed, asked.slope) + error, 0.0, governor.most_fuelling);
}

}  // namespace calmshaft
