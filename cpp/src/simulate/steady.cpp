#include "calmshaft/simulate/steady.hpp"

#include <limits>

#include "calmshaft/simulate/cycle_measures.hpp"
#include "calmshaft/simulate/lanes.hpp"

namespace calmshaft {

SteadyResult unsolved(Status status, std::string reason) {
  SteadyResult result;
  result.status = status;
  result.reason = std::move(reason);
  result.measures.fill(std::numeric_limits<double>::quiet_NaN());
  result.orders.assign(48, std::numeric_limits<double>::quiet_NaN());
  return result;
}

ChosenSteps steps_for(const ConditionModel& point, double highest_frequency, const SteadyOptions& options) {
  const double cycle_time = point.cycle_angle / point.condition.speed;
  const int asked = options.steps_per_cycle;
  if (asked > 0 && (bins_for(asked) == 0 || highest_frequency * cycle_time / asked > coarsest_phase))
    return {0, too_few_steps};
  if (asked > 0) return {asked};
  const StepLimits limits = step_limits(options.phase_step);
  const int steps = ladder_steps(highest_frequency, point.fastest_decay(), cycle_time, limits);
  return {steps, steps == 0 ? too_fast_for_steps : nullptr};
}

SteadyResult steady(const PreparedLine& line, const Condition& condition, const SteadyOptions& options) {
  const ConditionModel point(line, condition);
  const ChosenSteps chosen = steps_for(point, point.highest_frequency(), options);
  if (chosen.none_because) return unsolved(Status::failed, chosen.none_because);
  SteadyResult result;
  bool handed_out = false;
  const auto next = [&]() -> std::optional<LanePoint> {
    if (handed_out) return std::nullopt;
    handed_out = true;
    return LanePoint{0, &line, condition};
  };
  solve_in_lanes(chosen.steps, options, next, [&](std::size_t, SteadyResult&& found) { result = std::move(found); });
  return result;
}

}  // namespace calmshaft
