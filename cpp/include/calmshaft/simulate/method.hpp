// How an engine cycle is stepped through.
#pragma once

#include <string_view>

namespace calmshaft {

// leapfrog: one look at the torques a step; runge_kutta: the classical method of fourth order with four, for a second
// opinion.
enum class Method : signed char { leapfrog, runge_kutta };

// "leapfrog" or "runge kutta"; throws std::invalid_argument for another name.
Method method_of(std::string_view name);

// Nodes of the crank's tables that one step takes.
constexpr int nodes_per_step(Method method) { return method == Method::leapfrog ? 1 : 2; }

}  // namespace calmshaft
