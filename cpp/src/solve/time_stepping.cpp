#include "calmshaft/solve/time_stepping.hpp"

#include <algorithm>
#include <array>
#include <boost/numeric/odeint/stepper/controlled_runge_kutta.hpp>
#include <boost/numeric/odeint/stepper/generation.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta4.hpp>
#include <boost/numeric/odeint/stepper/runge_kutta_dopri5.hpp>
#include <cmath>
#include <stdexcept>
#include <variant>
#include <vector>

namespace calmshaft {
namespace odeint = boost::numeric::odeint;
namespace {

// Fixed-size arrays let the compiler unroll; unused places stay zero.
template <std::size_t capacity>
struct PaddedStepper {
  using State = std::array<double, capacity>;
  odeint::runge_kutta4<State> method;
  State state{};
  State rate{};

  void step(System& system, double at, double width, const double* rate_now, double* values) {
    const auto size = static_cast<std::size_t>(system.size());
    std::copy_n(values, size, state.begin());
    std::copy_n(rate_now, size, rate.begin());
    const auto derivative = [&system, size](const State& x, State& dx, double t) {
      system.derivative(t, x.data(), dx.data());
      std::fill(dx.begin() + static_cast<std::ptrdiff_t>(size), dx.end(), 0.0);
    };
    method.do_step(derivative, state, rate, at, width);
    std::copy_n(state.begin(), size, values);
  }
};

using AnyStepper = std::variant<PaddedStepper<16>, PaddedStepper<24>, PaddedStepper<32>, PaddedStepper<48>,
                                PaddedStepper<largest_state>>;

AnyStepper stepper_for(int size) {
  if (size <= 16) return PaddedStepper<16>{};
  if (size <= 24) return PaddedStepper<24>{};
  if (size <= 32) return PaddedStepper<32>{};
  if (size <= 48) return PaddedStepper<48>{};
  if (size <= largest_state) return PaddedStepper<largest_state>{};
  throw std::length_error("state larger than the steppers' largest array");
}

bool all_finite(const std::vector<double>& values) {
  return std::all_of(values.begin(), values.end(), [](double value) { return std::isfinite(value); });
}

}  // namespace

struct FixedStepper::Implementation {
  AnyStepper stepper;
};

FixedStepper::FixedStepper(int state_size)
    : implementation_(std::make_unique<Implementation>(Implementation{stepper_for(state_size)})) {}
FixedStepper::~FixedStepper() = default;
FixedStepper::FixedStepper(FixedStepper&&) noexcept = default;
FixedStepper& FixedStepper::operator=(FixedStepper&&) noexcept = default;

void FixedStepper::step(System& system, double at, double step, const double* rate, double* state) {
  std::visit([&](auto& stepper) { stepper.step(system, at, step, rate, state); }, implementation_->stepper);
}

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
