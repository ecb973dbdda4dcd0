#include "calmshaft/simulate/steady_search.hpp"

#include <algorithm>
#include <cmath>

#include "calmshaft/measure/cycle_statistics.hpp"

namespace calmshaft {
namespace {

constexpr int window = 8;                // cycles that must agree before a point is called periodic
constexpr int longest_period = 8;        // cycles
constexpr int shortest_repetition = 12;  // cycles before a motion is called subharmonic
constexpr int first_statistics_cycle = 9;
constexpr double damped_gain = 2.0 / 2.71828;  // over 1 + averaged cycles: an integrator so delayed just does not hunt
constexpr int shortest_statistics = 16;        // cycles
constexpr int quick_cycles = 6;                // full correction while the start dies out
constexpr double slow_gain = 0.25;             // after that, so that the correction does not stir the orbit
constexpr double calmed = 0.6;                 // of the scatter over a window before
constexpr double standing = 0.8;               // of what neighbours differed by two periods before
constexpr double enough_error = 0.01;          // standard error of the mean that statistics must reach

// Whether a measure still settles: its mean moved by more than its error and `tolerance`, or its scatter shrank.
bool settling(std::span<const double> early, std::span<const double> late, double tolerance) {
  const CycleStatistics before = cycle_statistics(early), after = cycle_statistics(late);
  const double error = std::hypot(before.standard_error, after.standard_error);
  return std::fabs(after.mean - before.mean) > std::max(3.0 * error, tolerance) ||
         (before.standard_error > 3.0 * after.standard_error && before.highest - before.lowest > tolerance);
}

// Whether the newest cycles scatter so much less than those before that they may yet repeat.
bool calming(std::span<const double> values) {
  if (values.size() < 2 * window) return false;
  const CycleStatistics late = cycle_statistics(values.last(window));
  const CycleStatistics early = cycle_statistics(values.last(2 * window).first(window));
  return late.highest - late.lowest < calmed * (early.highest - early.lowest);
}

// Leaves out the first half as long as the two halves differ.
std::span<const double> settled_part(std::span<const double> values, double tolerance) {
  while (values.size() >= 2 * window) {
    const std::size_t half = values.size() / 2;
    if (!settling(values.first(half), values.last(half), tolerance)) break;
    values = values.last(half);
  }
  return values;
}

}  // namespace

// How many tolerances two cycles differ by in the watched coupling's torque, the plate's twist, the duration; and teeth
// that carry nothing stay where they are between their flanks, or they will touch again.
double SteadySearch::apart(const CycleTotals& a, const CycleTotals& b) const {
  const double relative = setup_.relative_tolerance;
  const double torque = std::max(setup_.torque_tolerance, relative * b.ripple(setup_.watched));
  double most = 0.0;
  const auto differ = [&most](double one, double other, double by) {
    most = std::max(most, std::fabs(one - other) / by);
  };
  const auto differ_in_twist = [&](int coupling, double by) {
    const auto &one = a.channel[static_cast<std::size_t>(coupling)],
               &other = b.channel[static_cast<std::size_t>(coupling)];
    differ(one.twist_least, other.twist_least, by);
    differ(one.twist_greatest, other.twist_greatest, by);
  };
  const auto watched = static_cast<std::size_t>(setup_.watched);
  differ(a.ripple(setup_.watched), b.ripple(setup_.watched), torque);
  differ(a.channel[watched].torque_least, b.channel[watched].torque_least, torque);
  differ(a.duration, b.duration, relative * b.duration);
  if (setup_.watched_stiffness > 0)
    differ_in_twist(setup_.watched, setup_.float_tolerance + torque / setup_.watched_stiffness);
  if (setup_.plate >= 0)
    differ_in_twist(setup_.plate, std::max(setup_.twist_tolerance, relative * b.twist_range(setup_.plate)));
  return most;
}

// Over these cycles: no net torque left over, and the mean speed where it belongs: as asked, or with the fuelling fixed
// where that torque would not move it further.
bool SteadySearch::balanced(std::span<const CycleTotals> cycles) const {
  double duration = 0.0, momentum_change = 0.0;
  for (const CycleTotals& cycle : cycles) {
    duration += cycle.duration;
    momentum_change += cycle.momentum_change;
  }
  const double speed = static_cast<double>(cycles.size()) * setup_.cycle_angle / duration;
  const double surplus = std::fabs(momentum_change) / duration;  // [N m]
  const double off =
      setup_.fuelling == Fuelling::fixed ? surplus / setup_.resistance_slope : std::fabs(speed - setup_.asked_speed);
  return off <= setup_.relative_tolerance * setup_.asked_speed && surplus <= setup_.torque_tolerance;
}

bool SteadySearch::is_periodic() const {
  if (cycles() < window || !balanced(period())) return false;
  for (int age = 1; age < window; ++age)
    if (apart(back(age), back(0)) > 0.5) return false;
  return true;
}

// The least p of 2..8 at which the last 2 p + 4 cycles repeat while neighbours differ, and not ever less; 0: none.
int SteadySearch::repeating_period() const {
  if (cycles() < shortest_repetition) return 0;
  const double neighbours = apart(back(1), back(0));
  if (neighbours <= 1.0) return 0;
  for (int p = 2; p <= longest_period; ++p) {
    if (cycles() < 3 * p + 4) continue;
    bool repeats = true;
    for (int age = 0; age < p + 4 && repeats; ++age) repeats = apart(back(age + p), back(age)) <= 1.0;
    if (repeats && neighbours > standing * apart(back(2 * p + 1), back(2 * p))) return p;
  }
  return 0;
}

std::span<const CycleTotals> SteadySearch::period() const {
  return std::span(history_).last(static_cast<std::size_t>(period_));
}

// What decides how long the start is felt and how good the statistics are.
std::vector<SteadySearch::Judged> SteadySearch::judged() const {
  std::vector<Judged> all{{{}, setup_.torque_tolerance}, {{}, setup_.relative_tolerance * back(0).duration}};
  if (setup_.plate >= 0) all.push_back({{}, setup_.twist_tolerance});
  const auto from = std::min(history_.size() - 1, static_cast<std::size_t>(first_statistics_cycle - 1));
  for (const CycleTotals& cycle : std::span(history_).subspan(from)) {
    all[0].values.push_back(cycle.ripple(setup_.watched));
    all[1].values.push_back(cycle.duration);
    if (setup_.plate >= 0) all[2].values.push_back(cycle.twist_range(setup_.plate));
  }
  return all;
}

std::span<const CycleTotals> SteadySearch::statistics() const {
  std::size_t kept = history_.size();
  for (const Judged& one : judged()) kept = std::min(kept, settled_part(one.values, one.tolerance).size());
  return std::span(history_).last(kept);
}

bool SteadySearch::statistics_suffice() const {
  if (cycles() < shortest_statistics + first_statistics_cycle - 1) return false;
  const std::size_t kept = statistics().size();
  if (kept < shortest_statistics || !balanced(statistics())) return false;
  const auto enough = [kept](const Judged& one) {
    const CycleStatistics spread = cycle_statistics(std::span(one.values).last(kept));
    if (spread.lowest == 0 && spread.highest == 0) return false;  // teeth that never touched: wait until they do
    return spread.standard_error < enough_error * std::max(std::fabs(spread.mean), one.tolerance);
  };
  const std::vector<Judged> all = judged();
  return std::all_of(all.begin(), all.end(), enough) &&
         std::none_of(all.begin(), all.end(), [](const Judged& one) { return calming(one.values); });
}

void SteadySearch::take(CycleTotals&& totals) {
  history_.push_back(std::move(totals));
  if (is_periodic()) {
    status_ = Status::periodic;
  } else if (const int p = repeating_period();
             p > 0 && balanced(std::span(history_).last(static_cast<std::size_t>(p)))) {
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
  const double gain = last <= quick_cycles ? 1.0 : std::min(slow_gain, damped_gain / (1.0 + averaged));
  const double surplus = momentum_change / duration;  // [N m]
  if (setup_.fuelling == Fuelling::fixed) return {gain * surplus / setup_.resistance_slope, 0.0};
  const double too_slow = setup_.asked_speed - averaged * setup_.cycle_angle / duration;
  return {gain * too_slow, gain * (setup_.resistance_slope * too_slow - surplus) / setup_.fuelling_slope};
}

}  // namespace calmshaft
