// Eight sweep points side by side, each marching to its own steady state; a lane whose point is done takes the next.
#pragma once

#include <functional>
#include <optional>

#include "calmshaft/simulate/steady.hpp"

namespace calmshaft {

struct LanePoint {
  std::size_t index;  // of the result
  const PreparedLine* line;
  Condition condition;
  const StartState* start = nullptr;  // null, or of another shape: the linear solution
};

// Solves every point that `next` hands out, all of one shape and `steps` per cycle, and gives each result to `done`.
// No lane sees another: results do not depend on which points share a pack, nor on their order.
void solve_in_lanes(int steps, const SteadyOptions& options, const std::function<std::optional<LanePoint>()>& next,
                    const std::function<void(std::size_t, SteadyResult&&)>& done);

}  // namespace calmshaft
