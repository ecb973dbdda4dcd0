#include "calmshaft/simulate/steady_search.hpp"

#include <algorithm>
#include <cmath>

#include "calmshaft/measure/cycle_statistics.hpp"

namespace calmshaft {
namespace {

constexpr int window = 8;                 // cycles that must agree before a point is called periodic
constexpr int longest_period = 8;         // cycles
constexpr int first_statistics_cycle = 9;
constexpr int quick_cycles = 6;           // full correction while the start dies out
constexpr double slow_gain = 0.25;        // after that, so that the correction does not stir the orbit
constexpr double enough_error = 0.01;     // standard error of the mean that statistics must reach

double value(const CycleOutcome& outcome, Measure measure) { return outcome.measures[index_of(measure)]; }

double twist_range(const CycleOutcome& outcome) {
  const double range = value(outcome, Measure::plate_twist_max) - value(outcome, Measure::plate_twist_min);
  return std::isfinite(range) ? range : 0.0;  // a rigid plate has no twist
}

bool close(double a, double b, double tolerance) { return !(std::fabs(a - b) > tolerance); }

template <class Get>
std::vector<double> column(const std::vector<CycleOutcome>& cycles, const Get& get) {
  std::vector<double> values;
  values.reserve(cycles.size());
  for (const CycleOutcome& cycle : cycles) values.push_back(get(cycle));
  return values;
}

// First half against second half: a mean that still moves by more than its own error.
bool drifting(const std::vector<double>& values) {
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  const CycleStatistics early = cycle_statistics(std::vector<double>(values.begin(), middle));
  const CycleStatistics late = cycle_statistics(std::vector<double>(middle, values.end()));
  return std::fabs(late.mean - early.mean) > 3.0 * std::hypot(early.standard_error, late.standard_error);
}

}  // namespace

// Headline measures within `share` of the tolerance; NaN (no plate) counts as equal.
bool SteadySearch::same(const CycleOutcome& a, const CycleOutcome& b, double share) const {
  const double relative = setup_.relative_tolerance;
  const double torque = share * std::max(setup_.torque_tolerance, relative * std::fabs(b.ripple));
  const double twist = share * std::max(setup_.twist_tolerance, relative * twist_range(b));
  return close(a.ripple, b.ripple, torque) && close(a.least_torque, b.least_torque, torque) &&
         close(value(a, Measure::plate_twist_min), value(b, Measure::plate_twist_min), twist) &&
         close(value(a, Measure::plate_twist_max), value(b, Measure::plate_twist_max), twist) &&
         close(a.duration, b.duration, share * relative * b.duration);
}

// Mean speed as asked and no net torque left over.
bool SteadySearch::balanced() const {
  const CycleOutcome& newest = back(0);
  const double speed = setup_.cycle_angle / newest.duration;
  const bool on_speed = setup_.fuelling == Fuelling::fixed ||
                        close(speed, setup_.asked_speed, setup_.relative_tolerance * setup_.asked_speed);
  return on_speed && std::fabs(newest.momentum_change) <= setup_.torque_tolerance * newest.duration;
}

bool SteadySearch::is_periodic() const {
  if (cycles() < window || !balanced()) return false;
  for (int age = 1; age < window; ++age)
    if (!same(back(age), back(0), 0.5)) return false;
  return true;
}

// The least p of 2..8 at which the last 2 p + 4 cycles repeat while neighbours differ; 0: none.
int SteadySearch::repeating_period() const {
  for (int p = 2; p <= longest_period; ++p) {
    if (cycles() < std::max(12, 3 * p + 4)) continue;
    bool repeats = true;
    for (int age = 0; age < 2 * p + 4 - p && repeats; ++age) repeats = same(back(age + p), back(age), 1.0);
    if (repeats && !same(back(1), back(0), 1.0)) return p;
  }
  return 0;
}

std::vector<CycleOutcome> SteadySearch::statistics() const {
  const int wanted = std::max(std::min(cycles(), 1), cycles() - first_statistics_cycle + 1);
  return {history_.end() - wanted, history_.end()};
}

bool SteadySearch::statistics_suffice() const {
  if (cycles() < 24) return false;
  const std::vector<CycleOutcome> cycles_used = statistics();
  if (cycles_used.size() < 16) return false;
  const auto settled_enough = [&](const std::vector<double>& values, double floor) {
    const CycleStatistics spread = cycle_statistics(values);
    if (cycles() < 48 && drifting(values)) return false;
    return spread.standard_error < enough_error * std::max(std::fabs(spread.mean), floor);
  };
  return settled_enough(column(cycles_used, [](const CycleOutcome& c) { return c.ripple; }), setup_.torque_tolerance) &&
         settled_enough(column(cycles_used, twist_range), setup_.twist_tolerance);
}

void SteadySearch::take(const CycleOutcome& outcome) {
  history_.push_back(outcome);
  if (is_periodic()) {
    status_ = Status::periodic;
  } else if (const int p = repeating_period(); p > 0 && balanced()) {
    status_ = Status::subharmonic;
    period_ = p;
  } else if (cycles() >= setup_.longest || statistics_suffice()) {
    status_ = Status::aperiodic;
  }
}

// governed: speed towards the asked one, fuelling against the torque left over;
// fixed: speed to where that torque would vanish. On an orbit that is not periodic both are averaged.
Correction SteadySearch::correction() const {
  const int last = cycles();
  const int averaged = last >= first_statistics_cycle ? std::min(window, last - first_statistics_cycle + 1) : 1;
  double duration = 0.0, momentum_change = 0.0;
  for (int age = 0; age < averaged; ++age) {
    duration += back(age).duration;
    momentum_change += back(age).momentum_change;
  }
  const double gain = last <= quick_cycles ? 1.0 : slow_gain;
  const double surplus = momentum_change / duration;  // [N m]
  if (setup_.fuelling == Fuelling::fixed) return {gain * surplus / setup_.resistance_slope, 0.0};
  const double too_slow = setup_.asked_speed - averaged * setup_.cycle_angle / duration;
  return {gain * too_slow, gain * (setup_.resistance_slope * too_slow - surplus) / setup_.fuelling_slope};
}

}  // namespace calmshaft
