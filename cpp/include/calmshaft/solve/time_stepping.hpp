// Boost.Odeint's controlled stepper behind a plain face. (The fixed-step one meets the model in the lanes kernel.)
#pragma once

#include <functional>

#include "calmshaft/solve/system.hpp"

namespace calmshaft {

struct AdaptiveOptions {
  double relative_tolerance = 1e-8;   // [-]
  double absolute_tolerance = 1e-10;  // [unit of the state]
  double largest_step = 0;            // [unit of the independent variable] must be set
  long most_evaluations = 50'000'000;
};

enum class SteppingEnd { reached, not_finite, budget_spent, step_vanished };

struct AdaptiveStats {
  SteppingEnd end = SteppingEnd::reached;
  double at = 0;  // [unit of the independent variable] where it ended
  long evaluations = 0;
  long accepted_steps = 0;
  long rejected_steps = 0;
};

// Controlled Dormand-Prince 5(4) from `start` to `finish`; `state` is advanced in place and
// `observe(at, state)` is called after every accepted step.
AdaptiveStats integrate_adaptive(System& system, double start, double finish, double* state,
                                 const AdaptiveOptions& options,
                                 const std::function<void(double, const double*)>& observe);

}  // namespace calmshaft
