#include "calmshaft/solve/time_stepping.hpp"

#include <algorithm>
#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>
#include <vector>

namespace calmshaft {
namespace odeint = boost::numeric::odeint;
namespace {

bool all_finite(const std::vector<double>& values) {
  return std::all_of(values.begin(), values.end(), [](double value) { return std::isfinite(value); });
}

}  // namespace

// Odeint counts a NaN as success and lets the step grow, so the loop, the checks and the budget are ours.
AdaptiveStats integrate_adaptive(System& system, double start, double finish, double* state,
                                 const AdaptiveOptions& options,
                                 const std::function<void(double, const double*)>& observe) {
  using State = std::vector<double>;
  AdaptiveStats stats;
  State x(state, state + system.size());
  const auto derivative = [&](const State& values, State& rate, double at) {
    ++stats.evaluations;
    system.derivative(at, values.data(), rate.data());
  };
  auto controlled = odeint::make_controlled(options.absolute_tolerance, options.relative_tolerance,
                                            odeint::runge_kutta_dopri5<State>());
  double at = start;
  double width = options.largest_step;
  while (at < finish && stats.end == SteppingEnd::reached) {
    width = std::min({width, options.largest_step, finish - at});
    const double before = at;
    if (controlled.try_step(derivative, x, at, width) == odeint::success) {
      ++stats.accepted_steps;
      if (!all_finite(x)) stats.end = SteppingEnd::not_finite;
      system.after_step(at, x.data());
      controlled.reset();  // the friction memory has moved, a kept derivative would be stale
      observe(at, x.data());
    } else {
      ++stats.rejected_steps;
      at = before;
    }
    if (!(width > 1e-14 * std::max(1.0, std::fabs(finish)))) stats.end = SteppingEnd::step_vanished;
    if (stats.evaluations > options.most_evaluations) stats.end = SteppingEnd::budget_spent;
  }
  stats.at = at;
  std::copy(x.begin(), x.end(), state);
  return stats;
}

}  // namespace calmshaft
