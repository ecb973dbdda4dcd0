// Running measures of one engine cycle, taken node by node so that no time history has to be kept.
#pragma once

#include "calmshaft/core/number.hpp"
#include "calmshaft/model/dynamics.hpp"

namespace calmshaft {

inline constexpr int most_bins = 384;

template <class Value>
struct CycleMeter {
  struct Channel {
    Value torque_least, torque_greatest, torque_sum;  // [N m]
    Value twist_least, twist_greatest;                // [rad]
    Value drive_time, coast_time;                     // [s] beyond the flanks or stops
    Value torque_before, torque_before_that;          // [N m] at the last two nodes
    Value twist_before;                               // [rad] at the last node
  };
  Channel channel[most_couplings];
  Value speed_least, speed_greatest;  // [rad/s] of the crank
  Value time_before;                  // [s] at the last node
  Value bin[most_bins];               // [N m] watched torque, weighted into bins over the cycle
};

// Extreme of the parabola through three samples, no further than half an interval from the middle one:
// y(d) = b + d (c - a) / 2 + d^2 (a - 2 b + c) / 2 with d = (a - c) / (2 (a - 2 b + c)).
// Only where b stands out from both: a level stretch, as of open teeth, is no peak. A torque that does not change
// sign at its samples is not given another one between them.
template <class Real>
Real near_vertex(Real a, Real b, Real c) {
  const Real bend = a - 2.0 * b + c;
  const Real half = Real{} + 0.5;
  const Real place = limited(0.5 * (a - c) / bend, -half, half);
  const Real vertex = b + 0.5 * place * (c - a + place * bend);
  const Real same_side = where_positive(b, larger(vertex, Real{}), smaller(vertex, Real{}));
  return where_positive((b - a) * (b - c) * magnitude(b), same_side, b);
}

// Share of a straight line from `low` to `high` that lies above `limit`.
template <class Real>
Real share_above(Real low, Real high, Real limit) {
  const Real span = high - low + 1e-30;
  return limited((high - limit) / span, Real{}, Real{} + 1.0);
}

template <class Real>
void widen(Real value, Real& least, Real& greatest) {
  least = smaller(value, least);
  greatest = larger(value, greatest);
}

template <class Model, class Real>
class MeterReader {
 public:
  MeterReader(const Model& model, const Workspace<Real>& work, CycleMeter<Real>& meter, int watched, int steps,
              int bins)
      : model_(model), work_(work), meter_(meter), watched_(watched), block_(steps / bins), bins_(bins) {}

  void first(Real clock, Real crank_speed) {
    for (int i = 0; i < bins_; ++i) meter_.bin[i] = Real{};
    meter_.time_before = clock;
    meter_.speed_least = meter_.speed_greatest = crank_speed;
    for (int i = 0; i < model_.couplings(); ++i) {
      const Real torque = work_.coupling_torque[i], twist = work_.coupling_twist[i];
      meter_.channel[i] = {torque, torque, torque, twist, twist, Real{}, Real{}, torque, torque, twist};
    }
    bin_ = block_place_ = 0;
    put_in_bins();
  }

  // Every later node; the last one, where the next cycle begins, closes the intervals but is not summed.
  void next(Real clock, Real crank_speed, bool last) {
    const Real interval = clock - meter_.time_before;
    meter_.time_before = clock;
    widen(crank_speed, meter_.speed_least, meter_.speed_greatest);
    int index = 0;
    for (int i = 0; i < model_.springs; ++i, ++index) take(index, last);
    for (int i = 0; i < model_.dampers; ++i, ++index)
      take_gap(index, model_.damper[i].drive_stop, model_.damper[i].coast_stop, interval, last);
    for (int i = 0; i < model_.meshes; ++i, ++index)
      take_gap(index, model_.mesh[i].half_backlash, model_.mesh[i].half_backlash, interval, last);
    if (++block_place_ == block_) {
      block_place_ = 0;
      ++bin_;
    }
    if (!last) put_in_bins();
  }

 private:
  void take_gap(int index, Real drive_gap, Real coast_gap, Real interval, bool last) {
    auto& channel = meter_.channel[index];
    const Real now = work_.coupling_twist[index];
    const Real low = smaller(now, channel.twist_before), high = larger(now, channel.twist_before);
    channel.drive_time = channel.drive_time + interval * share_above(low, high, drive_gap);
    channel.coast_time = channel.coast_time + interval * share_above(-high, -low, coast_gap);
    widen(near_vertex(channel.torque_before_that, channel.torque_before, work_.coupling_torque[index]),
          channel.torque_least, channel.torque_greatest);
    take(index, last);
  }

  void take(int index, bool last) {
    auto& channel = meter_.channel[index];
    const Real torque = work_.coupling_torque[index], twist = work_.coupling_twist[index];
    widen(torque, channel.torque_least, channel.torque_greatest);
    widen(twist, channel.twist_least, channel.twist_greatest);
    if (!last) channel.torque_sum = channel.torque_sum + torque;
    channel.torque_before_that = channel.torque_before;
    channel.torque_before = torque;
    channel.twist_before = twist;
  }

  // Triangular weights over two blocks: what lies above the bins' rate folds back only by its square.
  void put_in_bins() {
    const Real torque = work_.coupling_torque[watched_];
    const double later = static_cast<double>(block_place_) / block_;
    const int after = bin_ + 1 == bins_ ? 0 : bin_ + 1;
    meter_.bin[bin_] = meter_.bin[bin_] + (1.0 - later) * torque;
    meter_.bin[after] = meter_.bin[after] + later * torque;
  }

  const Model& model_;
  const Workspace<Real>& work_;
  CycleMeter<Real>& meter_;
  int watched_, block_, bins_;
  int bin_ = 0, block_place_ = 0;
};

}  // namespace calmshaft
