// How an engine cycle is stepped through.
#pragma once

#include <string_view>

namespace calmshaft {

// leapfrog: of second order with one look at the torques a step, the teeth solved for what they do over it
// (leaping_meshes.hpp). runge_kutta: the classical method of fourth order, four looks a step, for a second opinion.
enum class Method : signed char { leapfrog, runge_kutta };

inline constexpr Method usual_method = Method::leapfrog;

// "leapfrog" or "runge kutta"; throws std::invalid_argument for another name.
Method method_of(std::string_view name);

// The most that a step may span.
struct StepLimits {
  double phase;  // [rad] of the highest mode
  double decay;  // [-] step over the time constant of the fastest decay
};

// [rad] of the highest mode in a step: beyond it neither method tells anything of that mode, and both end soon after.
inline constexpr double coarsest_phase = 1.5;

// What both methods need for 1 % of ripple and 0.4 % of vibratory torque at worst where the motion repeats with the
// loaded mesh closed (see `error_by_steps` of benchmarks/run.py), and for the damping of contacts. `phase_step` above
// zero takes the place of the usual phase.
constexpr StepLimits step_limits(double phase_step = 0.0) { return {phase_step > 0 ? phase_step : 0.6, 1.4}; }

// A torque that is held over a step is the mean that makes the motion exact, with weights 1 - |s| from a step before to
// a step after: a peak lacks this share of its second difference.
constexpr double flattened_peaks(Method method) { return method == Method::leapfrog ? 1.0 / 12.0 : 0.0; }

// Nodes of the crank's tables that one step takes.
constexpr int nodes_per_step(Method method) { return method == Method::leapfrog ? 1 : 2; }

}  // namespace calmshaft
