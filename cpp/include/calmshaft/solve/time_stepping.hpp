// Boost.Odeint's controlled stepper behind a plain face. (The fixed-step one meets the model in the lanes kernel.)
#pragma once

#include <functional>
#include <vector>

#include "calmshaft/solve/system.hpp"

namespace calmshaft {

struct AdaptiveOptions {
  double relative_tolerance = 1e-8;   // [-]
  double absolute_tolerance = 1e-10;  // [unit of the state]
  double largest_step = 0;            // [unit of the independent variable] must be set
  long most_evaluations = 50'000'000;
  // [unit of the state] error of a step by slot, in place of the two above; infinite where it does not matter.
  std::vector<double> tolerances{};
};

// `refused`: start, finish or largest step are no numbers to begin with; `stopped`: by the follower.
enum class SteppingEnd { reached, not_finite, budget_spent, step_vanished, refused, stopped };

struct AdaptiveStats {
  SteppingEnd end = SteppingEnd::reached;
  double at = 0;  // [unit of the independent variable] where it ended
  long evaluations = 0;
  long accepted_steps = 0;
  long rejected_steps = 0;
};

// An accepted step, whose inside is known to fourth order without further evaluations.
class StepSpan {
 public:
  virtual ~StepSpan() = default;
  virtual double from() const = 0;
  virtual double to() const = 0;
  virtual void state_at(double at, double* state) const = 0;
};

// Looks on while a system is stepped.
class StepFollower {
 public:
  virtual ~StepFollower() = default;
  // Every accepted step, while the memory of the system is still that of its beginning.
  virtual void within(const StepSpan&) {}
  // After it, memory renewed and the derivative at its end evaluated last; false stops the run.
  virtual bool after(double at, const double* state) = 0;
};

// Controlled Dormand-Prince 5(4) from `start` to `finish`; `state` is advanced in place.
AdaptiveStats integrate_adaptive(System& system, double start, double finish, double* state,
                                 const AdaptiveOptions& options, StepFollower& follower);

// The same, with `observe(at, state)` after every accepted step.
AdaptiveStats integrate_adaptive(System& system, double start, double finish, double* state,
                                 const AdaptiveOptions& options,
                                 const std::function<void(double, const double*)>& observe);

}  // namespace calmshaft
