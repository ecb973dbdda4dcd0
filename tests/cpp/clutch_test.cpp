// A slipping clutch against the closed form of two inertias that a constant torque brings together.
#include "calmshaft/model/clutch.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <limits>

#include "calmshaft/model/energy.hpp"
#include "calmshaft/solve/time_stepping.hpp"

using namespace calmshaft;

namespace {

constexpr double infinite = std::numeric_limits<double>::infinity();

// Two inertias with a clutch and a gear pair between them; the last slot sums the heat of the plates.
class TwoInertias final : public System {
 public:
  TwoInertias(double first, double second, double ratio, double backlash, double capacity) : capacity_(capacity) {
    model.stations = 2;
    model.inertia[0] = first;
    model.inertia[1] = second;
    model.inverse_inertia[1] = 1.0 / second;
    model.speed_ratio[0] = 1.0;
    model.speed_ratio[1] = 1.0 / ratio;
    model.meshes = 1;
    model.mesh_joint[0] = {0, 1};
    model.mesh[0] = {true, ratio, 0.5 * backlash, {1e5, 0.6}};
  }
  int size() const override { return model.state_size() + 1; }
  void derivative(double, const double* state, double* rate) override {
    double heat = 0.0;
    const auto law = [&](const Model&, int, Workspace<double>& work) {
      const ClutchTorque now =
          clutch_torque(model.mesh[0], memory_, capacity_, work.coupling_twist[0], work.coupling_rate[0]);
      heat = now.heat;
      torque = now.torque;
      return now.torque;
    };
    derivative_in_time(model, {0.0, 0.0, 0.0}, state, work_, rate, law);
    rate[model.state_size()] = heat;
  }
  void after_step(double, const double* state) override {
    const double twist = -model.mesh[0].ratio * state[1];
    memory_ = {tooth_twist(memory_, clutch_reach(model.mesh[0], capacity_), twist), twist};
  }

  Model model{};
  double torque = 0.0;

 private:
  double capacity_;
  Workspace<double> work_{};
  ClutchMemory memory_;
};

struct Meeting {
  double time, heat, work;  // [s], [J], [J]
  double first, second;     // [rad/s] at the end
};

// The first turns at 80 rad/s, the second stands; runs for `duration` and notes when the speeds first agree.
Meeting meet(TwoInertias& system, double duration) {
  std::array<double, most_state + 1> state{};
  const double ratio = system.model.mesh[0].ratio;
  state[2] = 80.0;
  Meeting found{infinite, 0, 0, 0, 0};
  const auto observe = [&](double at, const double* x) {
    if (x[2] - ratio * x[3] <= 0) found.time = std::min(found.time, at);
  };
  const AdaptiveOptions options{1e-9, 1e-12, 2e-5};
  REQUIRE(integrate_adaptive(system, 0.0, duration, state.data(), options, observe).end == SteppingEnd::reached);
  found.heat = state[static_cast<std::size_t>(system.model.state_size())];
  found.work = state[static_cast<std::size_t>(system.model.coupling_work_slot(0))];
  found.first = state[2], found.second = state[3];
  return found;
}

}  // namespace

TEST_CASE("a constant torque brings two inertias together in J w / T and makes half J w^2 of heat") {
  // J = J1 J2 / (J1 + J2), the second referred to the first by i^2: mechanics, e.g. any clutch handbook.
  for (const double ratio : {1.0, 2.0, -2.0}) {
    CAPTURE(ratio);
    const double first = 0.6, second = 0.4, capacity = 100.0;
    TwoInertias system(first, second, ratio, 0.0, capacity);
    const double referred = second / (ratio * ratio);
    const double reduced = first * referred / (first + referred);
    const Meeting found = meet(system, 1.0);
    CHECK(found.time == doctest::Approx(reduced * 80.0 / capacity).epsilon(1e-3));  // the steps' width
    CHECK(found.heat == doctest::Approx(0.5 * reduced * 80.0 * 80.0).epsilon(1e-3));
    CHECK(found.first == doctest::Approx(80.0 * first / (first + referred)).epsilon(1e-3));
    CHECK(found.second * ratio == doctest::Approx(found.first).epsilon(1e-3));
  }
}

TEST_CASE("an open clutch carries nothing and an engaged one is the gear pair alone") {
  TwoInertias open(0.6, 0.4, 2.0, 0.004, 0.0);
  const Meeting apart = meet(open, 0.1);
  CHECK(apart.first == 80.0);
  CHECK(apart.second == 0.0);
  CHECK(apart.heat == 0.0);
  const Model::Mesh mesh{true, 2.0, 0.002, {1e5, 0.6}};
  for (const double twist : {-0.005, -0.001, 0.0, 0.0015, 0.004})
    for (const double rate : {-0.5, 0.3}) {
      const ClutchTorque engaged = clutch_torque(mesh, {}, infinite, twist, rate);
      CHECK(engaged.torque == gap_torque(mesh.contact, 0.002, 0.002, twist, rate));
      CHECK(engaged.heat == 0.0);
    }
}

TEST_CASE("slipping never makes energy: what goes in is stored in the teeth or heat") {
  // with backlash the teeth cross over when the slip turns round; the work across the clutch covers heat and springs
  TwoInertias system(0.05, 0.04, 2.0, 0.01, 30.0);
  const Meeting found = meet(system, 0.3);
  const double lost = 0.5 * (0.05 * 6400.0 - 0.05 * found.first * found.first - 0.04 * found.second * found.second);
  CHECK(found.work == doctest::Approx(lost).epsilon(1e-6));
  CHECK(found.heat > 0.9 * found.work);
  CHECK(found.heat <= found.work * (1 + 1e-9));
}
