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
    Value torque_before[3];                           // [N m] of teeth at the last nodes, the newest first
    Value twist_before, depth_before;                 // [rad] at the last node
  };
  Channel channel[most_couplings];
  Value speed_least, speed_greatest;  // [rad/s] of the crank
  Value time_before;                  // [s] at the last node
  Value bin[most_bins];               // [N m] watched torque, weighted into bins over the cycle
};

// Calls visit(a.x, b.x) for what is left of a cycle, not for what the next node needs.
template <class A, class B, class Visit>
void for_each_value(const CycleMeter<A>& a, CycleMeter<B>& b, int couplings, int bins, const Visit& visit) {
  for (int i = 0; i < couplings; ++i) {
    const auto& from = a.channel[i];
    auto& to = b.channel[i];
    visit(from.torque_least, to.torque_least), visit(from.torque_greatest, to.torque_greatest);
    visit(from.torque_sum, to.torque_sum);
    visit(from.twist_least, to.twist_least), visit(from.twist_greatest, to.twist_greatest);
    visit(from.drive_time, to.drive_time), visit(from.coast_time, to.coast_time);
  }
  visit(a.speed_least, b.speed_least), visit(a.speed_greatest, b.speed_greatest);
  for (int i = 0; i < bins; ++i) visit(a.bin[i], b.bin[i]);
}

// Extreme between the middle two of four samples, where the cubic through them turns there:
//   y(s) = b + s (q1 + s (q2 + s q3))
// with y'(s) = 0 by one step of Newton from where a straight line between the middle slopes is zero. A torque that does
// not change sign at its samples is not given another one between them, and open teeth have no peak.
// `flattened` [-] of the bend is what the samples lack of the torque itself.
template <class Real>
Real extreme_between(Real a, Real b, Real c, Real d, double flattened = 0.0) {
  const Real rise = c - a, fall = d - b;
  const Real square = 0.5 * (a + c) - b, cube = (1.0 / 6.0) * (d - a) - 0.5 * (c - b);
  const Real slope = c - b - square - cube, guess = limited(rise / (rise - fall), Real{}, Real{} + 1.0);
  const auto bend_at = [&](Real place) { return 2.0 * square + 6.0 * place * cube; };
  const Real wrong = slope + guess * (2.0 * square + 3.0 * guess * cube);
  const Real place = limited(guess - wrong / bend_at(guess), Real{}, Real{} + 1.0);
  const Real found = b + place * (slope + place * (square + place * cube)) - flattened * bend_at(place);
  const Real same_side = where_positive(b + c, larger(found, Real{}), smaller(found, Real{}));
  return where_positive(-(rise * fall) * magnitude(b + c), same_side, b);
}

template <class Real>
void widen(Real value, Real& least, Real& greatest) {
  least = smaller(value, least);
  greatest = larger(value, greatest);
}

// Time on either side of a gap over one interval, the twist being a straight line in it.
template <class Real>
struct GapTimes {
  Real drive, coast;  // [s]
};
template <class Real>
GapTimes<Real> gap_times(Real depth_before, Real depth, Real twisted, Real interval) {
  const Real high = larger(depth, depth_before), low = smaller(depth, depth_before);
  if (!any_positive(larger(high, -low))) return {Real{}, Real{}};
  GapTimes<Real> times{where_positive(low, interval, Real{}), where_positive(-high, interval, Real{})};
  const Real entered = where_positive(low, Real{}, larger(high, Real{}));
  const Real left = where_positive(-high, Real{}, larger(-low, Real{}));
  if (any_positive(entered + left)) {
    const Real per_twist = interval / (magnitude(twisted) + 1e-30);
    times.drive = times.drive + entered * per_twist;
    times.coast = times.coast + left * per_twist;
  }
  return times;
}

template <class Model, class Real>
class MeterReader {
 public:
  // `flattened` as in extreme_between(); `bins` is a divisor of `steps`.
  MeterReader(const Model& model, CycleMeter<Real>& meter, int watched, int steps, int bins, double flattened)
      : model_(model), meter_(meter), watched_(watched), block_(steps / bins), flattened_(flattened) {}

  void first(const Workspace<Real>& work, Real clock, Real crank_speed) {
    meter_.time_before = clock;
    meter_.speed_least = meter_.speed_greatest = crank_speed;
    each_coupling(model_, [&](int i) {
      const Real torque = work.coupling_torque[i], twist = work.coupling_twist[i];
      meter_.channel[i] = {torque, torque, torque, twist, twist, Real{}, Real{}, {torque, torque, torque},
                           twist,  Real{}};
    });
    each_gap([&](int i) { meter_.channel[i].depth_before = work.coupling_depth[i]; });
    bin_ = place_ = 0;
    here_ = after_ = Real{};
    put_in_bins(work);
  }

  // Every later node of the cycle.
  void next(const Workspace<Real>& work, Real clock, Real crank_speed) {
    read(work, clock, crank_speed);
    each_coupling(
        model_, [&](int i) { meter_.channel[i].torque_sum = meter_.channel[i].torque_sum + work.coupling_torque[i]; });
    end_block();
    put_in_bins(work);
  }

  // Where the next cycle begins: closes the intervals but is not summed.
  void last(const Workspace<Real>& work, Real clock, Real crank_speed) {
    read(work, clock, crank_speed);
    end_block();
    meter_.bin[0] = meter_.bin[0] + here_;
  }

 private:
  template <class Visit>
  void each_gap(const Visit& visit) const {
    repeat(model_.dampers, [&](int i) { visit(model_.first_damper() + i); });
    repeat(model_.meshes, [&](int i) { visit(model_.first_mesh() + i); });
  }

  void read(const Workspace<Real>& work, Real clock, Real crank_speed) {
    const Real interval = clock - meter_.time_before;
    meter_.time_before = clock;
    widen(crank_speed, meter_.speed_least, meter_.speed_greatest);
    each_gap([&](int i) { take_gap(work, i, interval); });
    repeat(model_.dampers, [&](int i) { take_peak(work, model_.first_damper() + i, 0.0); });
    repeat(model_.meshes, [&](int i) { take_peak(work, model_.first_mesh() + i, flattened_); });
    each_coupling(model_, [&](int i) { take(work, i); });
  }

  void take_gap(const Workspace<Real>& work, int index, Real interval) {
    auto& channel = meter_.channel[index];
    const Real depth = work.coupling_depth[index];
    const GapTimes<Real> times =
        gap_times(channel.depth_before, depth, work.coupling_twist[index] - channel.twist_before, interval);
    channel.drive_time = channel.drive_time + times.drive;
    channel.coast_time = channel.coast_time + times.coast;
    channel.depth_before = depth;
  }

  // Most nodes need no division: what turns between two samples lies no further out than an eighth of the difference
  // over two steps, and what they lack of it.
  void take_peak(const Workspace<Real>& work, int index, double flattened) {
    auto& channel = meter_.channel[index];
    Real(&before)[3] = channel.torque_before;
    const Real a = before[2], b = before[1], c = before[0], d = work.coupling_torque[index];
    const Real rise = c - a, fall = d - b;
    const Real reach = 0.25 * larger(magnitude(rise), magnitude(fall));
    const Real beyond =
        larger(larger(b, c) + reach - channel.torque_greatest, channel.torque_least - smaller(b, c) + reach);
    const Real newly = smaller(beyond, -(rise * fall));
    if (any_positive(newly)) {
      const Real extreme = where_positive(newly, extreme_between(a, b, c, d, flattened), b);
      widen(extreme, channel.torque_least, channel.torque_greatest);
    }
    before[2] = b, before[1] = c, before[0] = d;
  }

  void take(const Workspace<Real>& work, int index) {
    auto& channel = meter_.channel[index];
    widen(work.coupling_torque[index], channel.torque_least, channel.torque_greatest);
    widen(work.coupling_twist[index], channel.twist_least, channel.twist_greatest);
    channel.twist_before = work.coupling_twist[index];
  }

  // Triangular weights over two blocks: what lies above the bins' rate folds back only by its square.
  void put_in_bins(const Workspace<Real>& work) {
    Real torque{};
    each_coupling(model_, [&](int i) {
      if (i == watched_) torque = work.coupling_torque[i];
    });
    const double later = static_cast<double>(place_) / block_;
    here_ = here_ + (1.0 - later) * torque;
    after_ = after_ + later * torque;
  }

  void end_block() {
    if (++place_ < block_) return;
    place_ = 0;
    meter_.bin[bin_++] = here_;
    here_ = after_;
    after_ = Real{};
  }

  const Model& model_;
  CycleMeter<Real>& meter_;
  int watched_, block_;
  double flattened_;
  int bin_ = 0, place_ = 0;
  Real here_{}, after_{};  // [N m] the bins being filled
};

}  // namespace calmshaft
