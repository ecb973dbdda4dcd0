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

// Extreme of the parabola through three samples, no further than half an interval from the middle one:
// y(d) = b + d (c - a) / 2 + d^2 (a - 2 b + c) / 2 with d = (a - c) / (2 (a - 2 b + c)).
// Only where b stands out from both: a level stretch, as of open teeth, is no peak. A torque that does not change
// sign at its samples is not given another one between them.
// `flattened` [-] of the bend is what the samples lack of the torque itself.
template <class Real>
Real near_vertex(Real a, Real b, Real c, double flattened = 0.0) {
  const Real bend = a - 2.0 * b + c;
  const Real half = Real{} + 0.5;
  const Real place = limited(0.5 * (a - c) / bend, -half, half);
  const Real vertex = b + 0.5 * place * (c - a + place * bend) - flattened * bend;
  const Real same_side = where_positive(b, larger(vertex, Real{}), smaller(vertex, Real{}));
  return where_positive((b - a) * (b - c) * magnitude(b), same_side, b);
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
  // `flattened` as in near_vertex(); `bins` is a divisor of `steps`.
  MeterReader(const Model& model, CycleMeter<Real>& meter, int watched, int steps, int bins, double flattened)
      : model_(model), meter_(meter), watched_(watched), block_(steps / bins), flattened_(flattened) {}

  void first(const Workspace<Real>& work, Real clock, Real crank_speed) {
    meter_.time_before = clock;
    meter_.speed_least = meter_.speed_greatest = crank_speed;
    each_coupling(model_, [&](int i) {
      const Real torque = work.coupling_torque[i], twist = work.coupling_twist[i];
      meter_.channel[i] = {torque, torque, torque, twist, twist, Real{}, Real{}, torque, torque, twist, Real{}};
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
    repeat(model_.meshes, [&](int i) { take_peak(work, model_.first_mesh() + i); });
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

  // A vertex lies no further out than a quarter of the greater difference: most nodes need no division.
  void take_peak(const Workspace<Real>& work, int index) {
    auto& channel = meter_.channel[index];
    const Real a = channel.torque_before_that, b = channel.torque_before, c = work.coupling_torque[index];
    const Real reach = 0.25 * larger(magnitude(b - a), magnitude(b - c));
    const Real beyond = larger(b + reach - channel.torque_greatest, channel.torque_least - b + reach);
    const Real stands_out = (b - a) * (b - c);
    if (any_positive(smaller(beyond, stands_out)))
      widen(near_vertex(a, b, c, flattened_), channel.torque_least, channel.torque_greatest);
    channel.torque_before_that = b;
  }

  void take(const Workspace<Real>& work, int index) {
    auto& channel = meter_.channel[index];
    widen(work.coupling_torque[index], channel.torque_least, channel.torque_greatest);
    widen(work.coupling_twist[index], channel.twist_least, channel.twist_greatest);
    channel.torque_before = work.coupling_torque[index];
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
