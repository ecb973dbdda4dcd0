// How an engine cycle is stepped through.
#pragma once

#include <string_view>

namespace calmshaft {

// runge_kutta: the classical method of fourth order, four looks at the torques a step. leapfrog: of second order with one
// look, for a second opinion: impacts come out less well, since their damping takes speeds carried to the node.
enum class Method : signed char { leapfrog, runge_kutta };

inline constexpr Method usual_method = Method::runge_kutta;

// "leapfrog" or "runge kutta"; throws std::invalid_argument for another name.
Method method_of(std::string_view name);

// The most that a step may span.
struct StepLimits {
  double phase;  // [rad] of the highest mode
  double decay;  // [-] step over the time constant of the fastest decay
};

// What each method needs for 0.5 % of ripple and 0.3 % of vibratory torque where the motion repeats with the loaded
// mesh closed (see `error_by_steps` of benchmarks/run.py), and half of what it stays stable to where contacts damp.
// `phase_step` above zero takes the place of the usual phase.
constexpr StepLimits step_limits(Method method, double phase_step = 0.0) {
  const StepLimits usual = method == Method::leapfrog ? StepLimits{0.3, 0.5} : StepLimits{0.6, 1.4};
  return phase_step > 0 ? StepLimits{phase_step, usual.decay} : usual;
}

// The meter looks at every so many nodes, so that it sees the highest mode as often with each method.
constexpr int steps_per_reading(Method method) { return method == Method::leapfrog ? 2 : 1; }

// Nodes of the crank's tables that one step takes.
constexpr int nodes_per_step(Method method) { return method == Method::leapfrog ? 1 : 2; }

}  // namespace calmshaft
