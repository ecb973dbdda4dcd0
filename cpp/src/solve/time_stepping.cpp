#include "calmshaft/solve/time_stepping.hpp"

#include <algorithm>
#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>

namespace calmshaft {
namespace odeint = boost::numeric::odeint;
namespace {

using State = std::vector<double>;
using DormandPrince = odeint::runge_kutta_dopri5<State>;

bool all_finite(const State& values) {
  return std::all_of(values.begin(), values.end(), [](double value) { return std::isfinite(value); });
}

// Largest error of a slot over what it may be.
class ErrorScale {
 public:
  explicit ErrorScale(const AdaptiveOptions& options) : options_(options) {}

  template <class Algebra, class Time>
  double error(Algebra&, const State& before, const State& rate, const State& error, Time step) const {
    double largest = 0.0;
    for (std::size_t i = 0; i < error.size(); ++i) {
      const double share = std::fabs(error[i]) / allowed(i, before[i], step * rate[i]);
      if (!(share <= largest)) largest = share;  // a NaN stays, and is found in the state
    }
    return largest;
  }

 private:
  double allowed(std::size_t slot, double value, double change) const {
    if (!options_.tolerances.empty()) return options_.tolerances[slot];
    return options_.absolute_tolerance + options_.relative_tolerance * (std::fabs(value) + std::fabs(change));
  }

  const AdaptiveOptions& options_;
};

using Controlled = odeint::controlled_runge_kutta<DormandPrince, ErrorScale>;

// Beginning and end of a step; its inside comes from the stages that the stepper keeps.
struct Step final : StepSpan {
  explicit Step(Controlled& stepper, int size)
      : controlled(stepper), x(static_cast<std::size_t>(size)), rate(x), next(x), next_rate(x), inside(x) {}

  double from() const override { return at; }
  double to() const override { return end; }
  void state_at(double when, double* state) const override {
    controlled.stepper().calc_state(when, inside, x, rate, at, next, next_rate, end);
    std::copy(inside.begin(), inside.end(), state);
  }

  Controlled& controlled;
  double at = 0, end = 0;
  State x, rate, next, next_rate;
  mutable State inside;
};

bool can_start(double start, double finish, double largest_step) {
  return std::isfinite(start) && std::isfinite(finish) && start <= finish && largest_step > 0;
}

class Watched final : public StepFollower {
 public:
  explicit Watched(const std::function<void(double, const double*)>& observe) : observe_(observe) {}
  bool after(double at, const double* state) override {
    observe_(at, state);
    return true;
  }

 private:
  const std::function<void(double, const double*)>& observe_;
};

}  // namespace

// Odeint counts a NaN as success and lets the step grow, so the loop, the checks and the budget are ours.
AdaptiveStats integrate_adaptive(System& system, double start, double finish, double* state,
                                 const AdaptiveOptions& options, StepFollower& follower) {
  AdaptiveStats stats;
  stats.at = start;
  if (!can_start(start, finish, options.largest_step)) {
    stats.end = SteppingEnd::refused;
    return stats;
  }
  const auto derivative = [&](const State& values, State& rate, double at) {
    ++stats.evaluations;
    system.derivative(at, values.data(), rate.data());
  };
  Controlled controlled{ErrorScale(options)};
  Step step(controlled, system.size());
  std::copy(state, state + system.size(), step.x.begin());
  derivative(step.x, step.rate, start);
  step.at = start;
  double width = options.largest_step;
  const auto advance = [&] {  // one attempt; why it is the last one, or `reached` to go on
    if (stats.evaluations >= options.most_evaluations) return SteppingEnd::budget_spent;
    width = std::min({width, options.largest_step, finish - step.at});
    step.end = step.at;
    if (controlled.try_step(derivative, step.x, step.rate, step.end, step.next, step.next_rate, width) !=
        odeint::success) {
      ++stats.rejected_steps;
      const bool vanished = !(width > 1e-14 * std::max(1.0, std::fabs(finish)));
      return vanished ? SteppingEnd::step_vanished : SteppingEnd::reached;
    }
    ++stats.accepted_steps;
    const bool finite = all_finite(step.next);
    if (finite) follower.within(step);
    step.x.swap(step.next);
    step.at = step.end;
    if (!finite) return SteppingEnd::not_finite;
    system.after_step(step.at, step.x.data());
    derivative(step.x, step.rate, step.at);  // afresh: the friction memory has moved
    return follower.after(step.at, step.x.data()) ? SteppingEnd::reached : SteppingEnd::stopped;
  };
  while (step.at < finish && stats.end == SteppingEnd::reached) stats.end = advance();
  stats.at = step.at;
  std::copy(step.x.begin(), step.x.end(), state);
  return stats;
}

AdaptiveStats integrate_adaptive(System& system, double start, double finish, double* state,
                                 const AdaptiveOptions& options,
                                 const std::function<void(double, const double*)>& observe) {
  Watched watched(observe);
  return integrate_adaptive(system, start, finish, state, options, watched);
}

}  // namespace calmshaft
