#include "calmshaft/simulate/manoeuvre_meter.hpp"

#include <algorithm>
#include <cmath>

#include "calmshaft/simulate/cycle_meter.hpp"

namespace calmshaft {
namespace {

constexpr double rest_speed = 0.5;  // [rad/s] of every station: five turns a minute
constexpr double rest_time = 0.3;   // [s]

std::size_t at_index(int index) { return static_cast<std::size_t>(index); }

}  // namespace

void PeakTracker::widen(double at, double value) {
  if (value < peak_.least) peak_.least = value, peak_.least_at = at;
  if (value > peak_.greatest) peak_.greatest = value, peak_.greatest_at = at;
}

// Slope m and bend q at the middle one of three samples; vertex at -m/2q. As near_vertex(), for uneven steps: only
// where it stands out from both neighbours, and never across zero.
void PeakTracker::take(double at, double value) {
  if (taken_ == 0) peak_ = {value, value, at, at};
  widen(at, value);
  if (taken_ >= 2) {
    const double first = at_[0] - at_[1], second = at - at_[0];
    const double rise = (value_[0] - value_[1]) / first, fall = (value - value_[0]) / second;
    if (rise * fall < 0 && value_[0] != 0) {
      const double bend = (fall - rise) / (first + second);
      const double slope = (rise * second + fall * first) / (first + second);
      const double place = limited(-0.5 * slope / bend, -0.5 * first, 0.5 * second);
      const double vertex = value_[0] + place * (slope + place * bend);
      if (vertex * value_[0] > 0) widen(at_[0] + place, vertex);
    }
  }
  at_[1] = at_[0], value_[1] = value_[0];
  at_[0] = at, value_[0] = value;
  ++taken_;
}

ManoeuvreMeter::ManoeuvreMeter(ManoeuvreSystem& system, const ManoeuvreOptions& options, double interval,
                               History& history)
    : system_(system),
      options_(options),
      history_(history),
      interval_(interval),
      twist_(at_index(system.model().couplings())),
      torque_(twist_.size()),
      twist_before_(twist_.size()),
      drive_time_(twist_.size()),
      coast_time_(twist_.size()),
      buffer_(at_index(system.size())),
      rate_(buffer_.size()) {
  history.speed.resize(at_index(system.model().stations));
  history.twist.resize(twist_.size());
  history.torque.resize(twist_.size());
}

void ManoeuvreMeter::begin(const double* state) {
  system_.derivative(0.0, state, rate_.data());
  counts_ = true;
  time_before_ = quiet_since_ = 0.0;
  std::copy_n(system_.work().coupling_twist, twist_before_.size(), twist_before_.begin());
  for (std::size_t i = 0; i < twist_.size(); ++i) {
    twist_[i].take(0.0, system_.work().coupling_twist[i]);
    torque_[i].take(0.0, system_.work().coupling_torque[i]);
  }
  sample(0.0, state);
  next_sample_ = interval_;
}

void ManoeuvreMeter::sample(double at, const double* state) {
  const Model& model = system_.model();
  history_.time.push_back(at);
  history_.crank_angle.push_back(state[0]);
  history_.fuelling.push_back(system_.fuelling());
  for (std::size_t i = 0; i < history_.speed.size(); ++i)
    history_.speed[i].push_back(state[at_index(model.stations) + i]);
  for (std::size_t i = 0; i < history_.twist.size(); ++i) {
    const double twist = system_.work().coupling_twist[i], torque = system_.work().coupling_torque[i];
    history_.twist[i].push_back(twist);
    history_.torque[i].push_back(torque);
    twist_[i].widen(at, twist);
    torque_[i].widen(at, torque);
  }
}

void ManoeuvreMeter::within(const StepSpan& span) {
  while (counts_ && next_sample_ <= span.to()) {
    span.state_at(next_sample_, buffer_.data());
    system_.derivative(next_sample_, buffer_.data(), rate_.data());
    sample(next_sample_, buffer_.data());
    next_sample_ = static_cast<double>(history_.time.size()) * interval_;
  }
}

bool ManoeuvreMeter::after(double at, const double* state) {
  if (counts_) {
    for (std::size_t i = 0; i < twist_.size(); ++i) {
      twist_[i].take(at, system_.work().coupling_twist[i]);
      torque_[i].take(at, system_.work().coupling_torque[i]);
    }
    take_contacts(at);
  }
  time_before_ = at;
  return goes_on(at, state);
}

// Twist taken as straight over the step: how long it lay beyond each flank or stop, and when it went there.
void ManoeuvreMeter::take_contacts(double at) {
  const Model& model = system_.model();
  const double step = at - time_before_;
  const auto take = [&](int index, double drive, double coast, std::vector<double>* drive_hits,
                        std::vector<double>* coast_hits) {
    const auto i = at_index(index);
    const double before = twist_before_[i], now = system_.work().coupling_twist[index];
    const GapTimes<double> times =
        gap_times(depth_beyond(drive, coast, before), depth_beyond(drive, coast, now), now - before, step);
    drive_time_[i] += times.drive;
    coast_time_[i] += times.coast;
    const auto hit = [&](double from, double to, double limit, std::vector<double>* hits) {
      if (hits && from <= limit && to > limit) hits->push_back(at - step * (to - limit) / (to - from));
    };
    hit(before, now, drive, drive_hits);
    hit(-before, -now, coast, coast_hits);
    twist_before_[i] = now;
  };
  for (int i = 0; i < model.dampers; ++i)
    take(model.first_damper() + i, model.damper[i].drive_stop, model.damper[i].coast_stop, &history_.drive_stop_hits,
         &history_.coast_stop_hits);
  for (int i = 0; i < model.meshes; ++i)
    take(model.first_mesh() + i, model.mesh[i].half_backlash, model.mesh[i].half_backlash, nullptr, nullptr);
}

bool ManoeuvreMeter::goes_on(double at, const double* state) {
  const Model& model = system_.model();
  const double* speed = state + model.stations;
  const bool turns_by_itself = system_.fuel_on(at) && !system_.starter_on(at);
  stalled_ = turns_by_itself && speed[0] <= options_.stall_speed;
  const bool quiet = !system_.fuel_on(at) && !system_.starter_on(at) &&
                     std::all_of(speed, speed + model.stations, [](double w) { return std::fabs(w) < rest_speed; });
  if (!quiet) quiet_since_ = at;
  rests_ = at - quiet_since_ > rest_time;
  return !stalled_ && !rests_ && !(options_.stop && options_.stop->load());
}

void ManoeuvreMeter::finish(double at) {
  const Model& model = system_.model();
  for (std::size_t i = 0; i < twist_.size(); ++i) {
    history_.twist_peak.push_back(twist_[i].peak());
    history_.torque_peak.push_back(torque_[i].peak());
  }
  for (int i = model.first_mesh(); i < model.couplings() && at > 0; ++i) {
    const double drive = drive_time_[at_index(i)] / at, coast = coast_time_[at_index(i)] / at;
    history_.shares.push_back({drive, std::max(0.0, 1.0 - drive - coast), coast});
  }
}

}  // namespace calmshaft
