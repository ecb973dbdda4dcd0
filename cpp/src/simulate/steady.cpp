#include "calmshaft/simulate/steady.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "calmshaft/core/number.hpp"
#include "calmshaft/measure/extremes.hpp"
#include "calmshaft/simulate/cycle_measures.hpp"
#include "calmshaft/simulate/linear_start.hpp"

namespace calmshaft {
namespace {

constexpr double stall_share = 0.25;  // of the asked speed: below it a piston engine does not run on
constexpr int shown_cycles = 8;       // recorded of a motion that does not repeat
const double nan = std::numeric_limits<double>::quiet_NaN();

SteadyResult unsolved(Status status, std::string reason) {
  SteadyResult result;
  result.status = status;
  result.reason = std::move(reason);
  result.measures.fill(nan);
  result.orders.assign(48, nan);
  return result;
}

// One condition on its way to the steady state.
class March {
 public:
  March(const ConditionModel& point, const SteadyOptions& options, int steps)
      : point_(point),
        options_(options),
        tables_(point.tables(steps)),
        runner_(point.model, tables_, options.keep_signals),
        orders_(order_table(steps, point.prepared.line().engine.strokes / 2)) {}

  SteadyResult solve(double fuelling) {
    runner_.fuelling = fuelling;
    runner_.least_crank_speed = stall_share * point_.condition.speed;
    runner_.work.mean_crank_speed = point_.condition.speed;
    set_linear_start(point_, tables_, runner_);
    SteadySearch search(setup());
    while (!search.settled()) {
      const CycleEnd end = runner_.run(1, record_);
      if (end != CycleEnd::complete) return broken_off(end, search.cycles());
      search.take(outcome());
      if (!search.settled()) correct(search.correction());
    }
    return finish(search);
  }

 private:
  SearchSetup setup() const {
    const Engine& engine = point_.prepared.line().engine;
    SearchSetup setup{};
    setup.asked_speed = point_.condition.speed;
    setup.cycle_angle = point_.cycle_angle;
    setup.fuelling = point_.condition.fuelling;
    setup.fuelling_slope = mean_of(tables_.fuelled_torque);
    setup.resistance_slope = point_.mean.resistance_slope;
    setup.torque_tolerance = setup.relative_tolerance * engine.rated_torque;
    double softest = std::numeric_limits<double>::max();
    for (const StagedDamper& damper : point_.model.dampers)
      for (const Ramp& ramp : damper.ramps)
        if (ramp.slope > 0) softest = std::min(softest, ramp.slope);
    setup.twist_tolerance = setup.torque_tolerance / softest;
    setup.longest = options_.most_cycles;
    return setup;
  }

  CycleOutcome outcome() const {
    const std::vector<double>& torque = record_.torque[static_cast<std::size_t>(watched_coupling(point_.model))];
    const Extremes watched = extremes(torque, false);
    return {measures_of(point_.model, record_, orders_, false), watched.ripple(), watched.least, record_.duration(),
            record_.momentum_change};
  }

  void correct(const Correction& correction) {
    runner_.change_speed(correction.speed);
    runner_.fuelling += correction.fuelling;
    if (point_.condition.fuelling == Fuelling::fixed)
      runner_.work.mean_crank_speed = point_.cycle_angle / record_.duration();
  }

  SteadyResult broken_off(CycleEnd end, int cycles) const {
    SteadyResult result = end == CycleEnd::stalled
                              ? unsolved(Status::stalled, "the crank slowed to a quarter of the asked speed: the engine "
                                                          "cannot carry this load here")
                              : unsolved(Status::failed, "the integration lost its numbers: the line has a part too "
                                                         "stiff or too light for these steps");
    result.cycles = cycles;
    return result;
  }

  SteadyResult finish(const SteadySearch& search) {
    SteadyResult result;
    result.status = *search.settled();
    result.cycles = search.cycles();
    result.fuelling = runner_.fuelling;
    result.overfuelled = runner_.fuelling > 1.0;
    result.steps_per_cycle = runner_.steps_per_cycle();
    const bool repeats = result.status != Status::aperiodic;
    result.period_cycles = repeats ? search.period() : 0;
    fill_spread(search, result);
    const int wanted = repeats ? search.period() : options_.keep_signals ? shown_cycles : 1;
    if (wanted > 1 || options_.keep_signals) {
      if (const CycleEnd end = runner_.run(wanted, record_); end != CycleEnd::complete)
        return broken_off(end, search.cycles());
    }
    result.measures = measures_of(point_.model, record_, orders_, repeats);
    if (!repeats) replace_by_means(result);
    result.orders = watched_orders(point_.model, record_, orders_);
    result.audit = record_.audit;
    if (options_.keep_signals) result.record = std::move(record_);
    return result;
  }

  static void fill_spread(const SteadySearch& search, SteadyResult& result) {
    const std::vector<CycleOutcome> cycles = search.statistics();
    std::vector<double> values(cycles.size());
    for (std::size_t m = 0; m < measure_count; ++m) {
      std::transform(cycles.begin(), cycles.end(), values.begin(),
                     [m](const CycleOutcome& cycle) { return cycle.measures[m]; });
      result.spread[m] = cycle_statistics(values);
    }
  }

  // Where the motion does not repeat a single cycle says nothing: means stand, peaks are withheld.
  static void replace_by_means(SteadyResult& result) {
    for (std::size_t m = 0; m < measure_count; ++m)
      result.measures[m] = measure_list[m].peak ? nan : result.spread[m].mean;
  }

  const ConditionModel& point_;
  SteadyOptions options_;
  EngineTables tables_;
  CycleRunner runner_;
  const OrderTable& orders_;
  CycleRecord record_;
};

// Fixed fuelling is what the healthy engine needs at this speed, found by running it.
double healthy_fuelling(const PreparedLine& line, Condition condition, const SteadyOptions& options) {
  condition.strengths.clear();
  condition.fuelling = Fuelling::governed;
  return steady(line, condition, {options.steps_per_cycle, options.most_cycles, false}).fuelling;
}

}  // namespace

SteadyResult steady(const PreparedLine& line, const Condition& condition, const SteadyOptions& options) {
  const ConditionModel point(line, condition);
  const int steps = options.steps_per_cycle > 0 ? options.steps_per_cycle : point.steps_per_cycle();
  if (steps == 0)
    return unsolved(Status::failed, "a part of the line vibrates too fast for the finest steps: look for a stiffness "
                                    "or an inertia in the wrong unit");
  const double balanced = balanced_fuelling(point, point.tables(720));
  if (!std::isfinite(balanced)) return unsolved(Status::failed, "no cylinder fires");
  March march(point, options, steps);
  return march.solve(condition.fuelling == Fuelling::fixed ? healthy_fuelling(line, condition, options) : balanced);
}

}  // namespace calmshaft
