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

int steps_for(const ConditionModel& point, const SteadyOptions& options) {
  return options.steps_per_cycle > 0 ? options.steps_per_cycle : point.steps_per_cycle(step_limits(options.method, options.phase_step));
}

SteadyResult steady(const PreparedLine& line, const Condition& condition, const SteadyOptions& options) {
  const int steps = steps_for(ConditionModel(line, condition), options);
  if (steps == 0 || bins_for(steps, options.method) == 0)
    return unsolved(Status::failed, too_fast_for_steps);
  SteadyResult result;
  bool handed_out = false;
  const auto next = [&]() -> std::optional<LanePoint> {
    if (handed_out) return std::nullopt;
    handed_out = true;
    return LanePoint{0, &line, condition};
  };
  solve_in_lanes(steps, options, next, [&](std::size_t, SteadyResult&& found) { result = std::move(found); });
  return result;
}

}  // namespace calmshaft
