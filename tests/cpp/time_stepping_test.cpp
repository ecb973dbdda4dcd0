// The controlled stepper: its ends, its accuracy, and free vibrations of one inertia on a wall. Sources beside each.
#include "calmshaft/solve/time_stepping.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <limits>
#include <numbers>
#include <vector>

#include "calmshaft/model/dynamics.hpp"
#include "linear_fixtures.hpp"

using namespace calmshaft;
using fixtures::relative_error;

namespace {

class Equation final : public System {
 public:
  using Rate = std::function<void(double, const double*, double*)>;
  Equation(int size, Rate rate) : size_(size), rate_(std::move(rate)) {}
  int size() const override { return size_; }
  void derivative(double at, const double* state, double* rate) override { rate_(at, state, rate); }
  void after_step(double, const double*) override { ++steps; }
  long steps = 0;

 private:
  int size_;
  Rate rate_;
};

const auto nothing = [](double, const double*) {};

// A damper on a wall: station 0 too heavy to move, station 1 swings on the stages, both sides alike.
Model on_a_wall(double inertia, const std::vector<Model::RampValues>& one_side) {
  Model model{};
  model.stations = 2;
  model.inertia[0] = 1e12;
  model.inertia[1] = inertia;
  model.inverse_inertia[1] = 1.0 / inertia;
  model.speed_ratio[0] = model.speed_ratio[1] = 1.0;
  model.dampers = 1;
  model.damper_joint[0] = {0, 1};
  Model::Damper& damper = model.damper[0];
  damper.presliding_angle = 1e-7;
  damper.drive_stop = damper.coast_stop = 1e3;
  for (const Model::RampValues& ramp : one_side)
    for (const double side : {1.0, -1.0}) damper.ramp[damper.ramps++] = {side, ramp.corner, ramp.slope};
  return model;
}

class Swinging final : public System {
 public:
  explicit Swinging(const Model& model) : model_(model) {}
  int size() const override { return model_.state_size(); }
  void derivative(double, const double* state, double* rate) override {
    derivative_in_time(model_, {0.0, 0.0, 0.0}, state, work_, rate);
  }
  void after_step(double, const double* state) override { remember_friction(model_, state, work_); }

 private:
  const Model& model_;
  Workspace<double> work_{};
};

struct Turn {
  double time, angle;  // [s], [rad]
};

// The turning points after a release from rest at `start`: where the speed changes its sign.
std::vector<Turn> turns(const Model& model, double start, double duration, double step) {
  Swinging system(model);
  std::array<double, most_state> state{};
  state[1] = start;
  std::vector<Turn> found;
  double time_before = 0.0, speed_before = 0.0;
  const auto observe = [&](double at, const double* x) {
    if (speed_before * x[3] < 0) {
      const double share = speed_before / (speed_before - x[3]);
      found.push_back({time_before + share * (at - time_before), x[1]});
    }
    time_before = at;
    speed_before = x[3];
  };
  integrate_adaptive(system, 0.0, duration, state.data(), {1e-11, 1e-15, step, 50'000'000}, observe);
  return found;
}

}  // namespace

TEST_CASE("the stepper follows an exponential to its tolerance and calls after every accepted step") {
  Equation decay(1, [](double, const double* x, double* rate) { rate[0] = -x[0]; });
  double x = 1.0;
  long observed = 0;
  const AdaptiveStats stats =
      integrate_adaptive(decay, 0.0, 2.0, &x, {1e-10, 1e-12, 0.7}, [&](double, const double*) { ++observed; });
  CHECK(stats.end == SteppingEnd::reached);
  CHECK(stats.at == 2.0);
  CHECK(relative_error(x, std::exp(-2.0)) < 1e-8);
  CHECK(stats.accepted_steps == observed);
  CHECK(stats.accepted_steps == decay.steps);
}

TEST_CASE("a value that is not a number ends the run where it appears") {
  Equation broken(1, [](double at, const double*, double* rate) {
    rate[0] = at > 0.5 ? std::numeric_limits<double>::quiet_NaN() : 1.0;
  });
  double x = 0.0;
  const AdaptiveStats stats = integrate_adaptive(broken, 0.0, 2.0, &x, {1e-8, 1e-10, 0.1}, nothing);
  CHECK(stats.end == SteppingEnd::not_finite);
  CHECK(stats.at < 0.75);
  CHECK(std::isnan(x));
}

TEST_CASE("a value that grows without bound ends the run instead of looping") {
  Equation blow_up(1, [](double, const double* x, double* rate) { rate[0] = x[0] * x[0]; });  // infinite at 1
  double x = 1.0;
  const AdaptiveStats stats = integrate_adaptive(blow_up, 0.0, 2.0, &x, {1e-8, 1e-10, 0.1, 200'000}, nothing);
  CHECK(stats.end != SteppingEnd::reached);
  CHECK(stats.at < 1.01);
}

TEST_CASE("the budget of evaluations is kept") {
  Equation swing(2, [](double, const double* x, double* rate) { rate[0] = x[1], rate[1] = -1e6 * x[0]; });
  std::array<double, 2> x{1.0, 0.0};
  const AdaptiveStats stats = integrate_adaptive(swing, 0.0, 10.0, x.data(), {1e-10, 1e-12, 1e-2, 1000}, nothing);
  CHECK(stats.end == SteppingEnd::budget_spent);
  CHECK(stats.evaluations < 1100);
  CHECK(stats.at < 10.0);
}

TEST_CASE("steps that shrink to nothing end the run") {
  long calls = 0;  // a torque that jumps at every call, like a sign of a speed that chatters
  Equation chatter(1, [&](double, const double*, double* rate) { rate[0] = ++calls % 2 ? 1e30 : -1e30; });
  double x = 0.0;
  const AdaptiveStats stats = integrate_adaptive(chatter, 0.0, 1.0, &x, {1e-8, 1e-10, 0.1}, nothing);
  CHECK(stats.end == SteppingEnd::step_vanished);
  CHECK(stats.rejected_steps > 10);
}

TEST_CASE("dry friction takes the same angle off every half swing until it holds") {
  // Coulomb decay, closed form: 2 F/k a half cycle; released from 1 with F = 0.15 k: -0.7, 0.4, -0.1, there it sticks.
  // The period stays 2 pi / w. The slider's presliding of 1e-5 is the tolerance.
  Model model = on_a_wall(1.0, {{1.0, 0.0, 100.0}});
  model.damper[0].presliding_angle = 1e-5;
  model.damper[0].slider_stiffness = 0.15 * 100.0 / 1e-5;
  const double period = 2 * std::numbers::pi / 10.0;
  const std::vector<Turn> found = turns(model, 1.0, 1.45 * period, 2e-4);
  REQUIRE(found.size() >= 2);
  CHECK(std::fabs(found[0].angle + 0.7) < 3e-5);
  CHECK(std::fabs(found[1].angle - 0.4) < 5e-5);
  CHECK(relative_error(found[1].time, period) < 1e-3);  // the slider turns round within sqrt(presliding)
  Swinging system(model);
  std::array<double, most_state> state{};
  state[1] = 1.0;
  const auto rests = [&](double at, const double* x) {
    if (at > 1.6 * period) CHECK_MESSAGE(std::fabs(x[1] + 0.1) < 1e-4, at);
  };
  const AdaptiveStats stats = integrate_adaptive(system, 0.0, 2.5 * period, state.data(), {1e-10, 1e-14, 2e-4}, rests);
  CHECK(stats.at == 2.5 * period);
}

TEST_CASE("a preloaded spring shortens the period as its closed form says") {
  // T = (F0 + k |x|) sgn x, s = F0 / k: period (4 / w) acos(s / (A + s)), derived by energy. w = 100, s = 0.005, A =
  // 0.02. The jump of F0 is a slope over 1e-6 rad.
  const double ramp = 1e-6, k = 1e4;
  const Model model = on_a_wall(1.0, {{1.0, 0.0, k * 0.005 / ramp}, {1.0, ramp, k - k * 0.005 / ramp}});
  const std::vector<Turn> found = turns(model, 0.02, 0.06, 1e-5);
  REQUIRE(found.size() == 2);
  CHECK(relative_error(found[1].time, 0.0547775362) < 1e-4);
}

TEST_CASE("free play lengthens the period by the time to cross it, at every amplitude") {
  // 2 pi / w + 4 d / (w (A - d)), derived and checked by energy quadrature; w = 100, d = 0.01
  const Model model = on_a_wall(1.0, {{1.0, 0.01, 1e4}});
  const std::array<std::pair<double, double>, 3> rows{
      std::pair{0.012, 0.2628318531}, {0.02, 0.1028318531}, {0.1, 0.0672762975}};
  for (const auto& [amplitude, period] : rows) {
    CAPTURE(amplitude);
    const std::vector<Turn> found = turns(model, amplitude, 1.1 * period, period / 4000);
    REQUIRE(found.size() == 2);
    CHECK(relative_error(found[1].time, period) < 1e-5);
  }
}

TEST_CASE("a second stage shortens the period piece by piece") {
  // w1 = 50 within 0.01 rad, w2 = 200 beyond, amplitude 0.02: closed form
  const Model model = on_a_wall(1.0, {{1.0, 0.0, 2500.0}, {1.0, 0.01, 37500.0}});
  const std::vector<Turn> found = turns(model, 0.02, 0.055, 1e-5);
  REQUIRE(found.size() == 2);
  CHECK(relative_error(found[1].time, 0.0487569655) < 1e-6);
}

TEST_CASE("a run that gets to its end has reached it, however short the last step was") {
  // the last step is cut to what is left, which after ten of 0.1 is only rounding
  Equation level(1, [](double, const double*, double* rate) { rate[0] = 1.0; });
  for (const double finish : {1.0, 1.0 + 1e-15, 3 * 0.1, 1e-15}) {
    double x = 0.0;
    const AdaptiveStats stats = integrate_adaptive(level, 0.0, finish, &x, {1e-8, 1e-10, 0.1}, nothing);
    CHECK(stats.end == SteppingEnd::reached);
    CHECK(stats.at == finish);
  }
}

TEST_CASE("a value that is not a number is not taken for a spent budget") {
  Equation broken(1, [](double, const double*, double* rate) { rate[0] = std::numeric_limits<double>::quiet_NaN(); });
  double x = 0.0;
  CHECK(integrate_adaptive(broken, 0.0, 1.0, &x, {1e-8, 1e-10, 0.1, 2}, nothing).end == SteppingEnd::not_finite);
}

TEST_CASE("an end before the start, or one that is not a number, is refused") {
  Equation level(1, [](double, const double*, double* rate) { rate[0] = 1.0; });
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const std::array<std::array<double, 3>, 4> asked{
      {{0.0, nan, 0.1}, {1.0, 0.0, 0.1}, {nan, 1.0, 0.1}, {0.0, 1.0, 0.0}}};
  for (const auto& [start, finish, step] : asked) {
    double x = 5.0;
    const AdaptiveStats stats = integrate_adaptive(level, start, finish, &x, {1e-8, 1e-10, step}, nothing);
    CHECK(stats.end == SteppingEnd::refused);
    CHECK(stats.evaluations == 0);
    CHECK(x == 5.0);
  }
}

namespace {

class Sampled final : public StepFollower {
 public:
  void within(const StepSpan& span) override {
    for (const double share : {0.25, 0.5, 0.75}) {
      const double at = span.from() + share * (span.to() - span.from());
      std::array<double, 2> state{};
      span.state_at(at, state.data());
      worst = std::max(worst, std::fabs(state[0] - std::cos(10.0 * at)));
    }
  }
  bool after(double at, const double*) override { return at < 1.0; }
  double worst = 0.0;
};

}  // namespace

TEST_CASE("the inside of a step is as good as its ends, and a follower can stop the run") {
  Equation swing(2, [](double, const double* x, double* rate) { rate[0] = x[1], rate[1] = -100.0 * x[0]; });
  std::array<double, 2> x{1.0, 0.0};
  Sampled sampled;
  const AdaptiveStats stats = integrate_adaptive(swing, 0.0, 5.0, x.data(), {1e-9, 1e-9, 0.05}, sampled);
  CHECK(stats.end == SteppingEnd::stopped);
  CHECK(stats.at < 1.1);
  CHECK(sampled.worst < 1e-6);  // fourth-order interpolation of steps that hold 1e-9 each
  CHECK(std::fabs(x[0] - std::cos(10.0 * stats.at)) < 1e-7);
}

TEST_CASE("errors by slot leave a slot of infinite tolerance out of the step control") {
  Equation two(2, [](double at, const double*, double* rate) { rate[0] = 1.0, rate[1] = 1e6 * std::sin(1e4 * at); });
  const auto steps = [&](double second) {
    std::array<double, 2> x{};
    return integrate_adaptive(two, 0.0, 1.0, x.data(), {0, 0, 0.1, 50'000'000, {1e-6, second}}, nothing).accepted_steps;
  };
  CHECK(steps(std::numeric_limits<double>::infinity()) <= 11);  // of 0.1 each, and a rounding
  CHECK(steps(1e-6) > 1000);
}
