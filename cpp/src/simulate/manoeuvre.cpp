#include "calmshaft/simulate/manoeuvre.hpp"

#include <algorithm>
#include <cmath>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/simulate/manoeuvre_meter.hpp"
#include "calmshaft/simulate/manoeuvre_verdict.hpp"

namespace calmshaft {
namespace {

constexpr double longest_settling = 3.0;  // [s] slow cranking needs no more
constexpr double shown_order = 12.0;      // the highest order of the synthesis
constexpr double samples_per_period = 20.0;

double greatest_speed(const Condition& condition, const Schedule& schedule) {
  double greatest = condition.speed;
  for (const auto& [time, value] : schedule.speed) greatest = std::max(greatest, value);
  return greatest;
}

double sample_interval(const Condition& condition, const Schedule& schedule, const ManoeuvreOptions& options) {
  const double fine = two_pi / greatest_speed(condition, schedule) / shown_order / samples_per_period;
  const double wanted = options.sample_interval > 0 ? options.sample_interval : fine;
  return std::max(wanted, schedule.duration / options.most_samples);
}

class Run {
 public:
  Run(const ManoeuvreLine& line, const Schedule& schedule, const ManoeuvreOptions& options)
      : line_(line),
        schedule_(schedule),
        options_(options),
        system_(line, schedule, options.governor),
        meter_(system_, options, sample_interval(line.start.condition, schedule, options), history_) {
    history_.stations = line.stations;
    history_.couplings = line.couplings;
  }

  History run() {
    settle();
    if (history_.stats.end == SteppingEnd::reached) {
      open_books();
      double from = 0.0;
      for (const double to : changes_of(schedule_)) {
        if (history_.stats.end != SteppingEnd::reached) break;
        advance(from, to);
        from = to;
      }
      close_books();
    }
    judge(history_, line_, system_, meter_, schedule_, options_);
    return std::move(history_);
  }

 private:
  void settle() {
    const double cycles = options_.settle_cycles * line_.start.cycle_angle / line_.start.condition.speed;
    const double duration = std::min(cycles, longest_settling);
    system_.enter(-duration, 0.0);
    state_ = system_.start(-duration);
    advance(-duration, 0.0);
  }

  // Steps over a stretch in which no track of the schedule changes its slope, an eighth of the fastest period at most.
  void advance(double from, double to) {
    AdaptiveStats& sum = history_.stats;
    system_.enter(from, to);
    const double torque = options_.tolerance * line_.start.prepared.line().engine.rated_torque;
    const AdaptiveOptions stepping{0.0, 0.0, two_pi / line_.highest_frequency / 8.0,
                                   options_.most_evaluations - sum.evaluations, system_.tolerances(torque)};
    const AdaptiveStats stats = integrate_adaptive(system_, from, to, state_.data(), stepping, meter_);
    sum.end = stats.end, sum.at = stats.at;
    sum.evaluations += stats.evaluations;
    sum.accepted_steps += stats.accepted_steps, sum.rejected_steps += stats.rejected_steps;
  }

  std::vector<double> coupling_energies() const {
    std::vector<double> energies;
    for (int i = 0; i < line_.model.couplings(); ++i) energies.push_back(system_.coupling(i, state_.data()));
    return energies;
  }

  void open_books() {
    std::fill(state_.begin() + line_.model.gas_work_slot(), state_.begin() + system_.governor_slot(), 0.0);
    std::fill(state_.begin() + system_.starter_slot(), state_.end(), 0.0);
    kinetic_before_ = system_.kinetic(state_.data());
    couplings_before_ = coupling_energies();
    meter_.begin(state_.data());
  }

  void close_books() {
    const Model& model = line_.model;
    const std::vector<double> now = coupling_energies();
    double dissipated = 0.0, stored = system_.kinetic(state_.data()) - kinetic_before_;
    for (std::size_t i = 0; i < now.size(); ++i) {
      const double change = now[i] - couplings_before_[i];
      stored += change;
      dissipated += state_[static_cast<std::size_t>(model.coupling_work_slot(static_cast<int>(i)))] - change;
    }
    history_.audit =
        audit_of(model, state_.data(), dissipated, stored, state_[static_cast<std::size_t>(system_.starter_slot())]);
    meter_.finish(history_.stats.at);
    for (int i = 0; i < static_cast<int>(line_.clutches.size()); ++i)
      history_.clutches.push_back({model.first_mesh() + line_.clutches[static_cast<std::size_t>(i)].mesh,
                                   state_[static_cast<std::size_t>(system_.clutch_heat_slot(i))], system_.slip_ended(i),
                                   system_.slips(i)});
  }

  const ManoeuvreLine& line_;
  const Schedule& schedule_;
  const ManoeuvreOptions& options_;
  History history_;
  ManoeuvreSystem system_;
  ManoeuvreMeter meter_;
  std::vector<double> state_;             // [unit of the state]
  double kinetic_before_ = 0;             // [J]
  std::vector<double> couplings_before_;  // [J]
};

}  // namespace

History simulate(const PreparedLine& line, const Condition& condition, const Schedule& schedule,
                 const ManoeuvreOptions& options) {
  const ManoeuvreLine made(line, condition, schedule);
  if (!made.balance.fires()) {
    History history;
    history.reason = "no cylinder fires, so no fuelling carries the line: leave one cylinder that fires";
    return history;
  }
  return Run(made, schedule, options).run();
}

}  // namespace calmshaft
