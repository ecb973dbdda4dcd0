// Where the energy goes: work in = dissipated + stored, an identity of mechanics that needs no source.
#include "calmshaft/model/energy.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>

#include "calmshaft/engine/slider_crank.hpp"
#include "calmshaft/model/assemble.hpp"
#include "calmshaft/solve/time_stepping.hpp"
#include "linear_fixtures.hpp"
#include "sample_line.hpp"

using namespace calmshaft;
using fixtures::relative_error;
using sample::at_rpm;
using sample::degree;

namespace {

// A model in time form, its crank read from exact kinematics at every angle.
class Running final : public System {
 public:
  using Crank = std::function<CrankDrive<double>(double)>;
  Running(const Model& model, Crank crank) : model_(model), crank_(std::move(crank)) {}
  int size() const override { return model_.state_size(); }
  void derivative(double, const double* state, double* rate) override {
    derivative_in_time(model_, crank_(state[0]), state, work, rate);
  }
  void after_step(double, const double* state) override { remember_friction(model_, state, work); }
  double stored(const double* state) const { return stored_energy(model_, crank_(state[0]).inertia, state, work); }
  Workspace<double> work{};

 private:
  const Model& model_;
  Crank crank_;
};

CrankDrive<double> launch_crank(double angle) {
  const Engine engine = sample::launch_engine();
  const SliderCrank crank{engine.stroke / 2, engine.rod_length};
  const MovingParts parts{engine.piston_mass, engine.rod_mass, engine.rod_centre_from_big_end, engine.rod_inertia};
  CrankDrive<double> drive{0.0, engine.crank_inertia, 0.0};
  for (const double fires_at : engine.firing_angles) {
    const Inertia one = moving_inertia(crank, parts, angle - fires_at);
    drive.inertia += one.value;
    drive.inertia_slope += one.slope;
  }
  return drive;
}

// How the launch starts in every free run: wound up, its gears apart, its shafts at different speeds.
std::array<double, most_state> wound_up(const Model& model) {
  std::array<double, most_state> state{};
  for (int i = 0; i < model.stations; ++i)
    state[static_cast<std::size_t>(model.stations + i)] = model.speed_ratio[i] * (100.0 + 3.0 * i);
  state[1] = -5.0 * degree;
  state[2] = -2.6 * degree;
  return state;
}

const auto nothing = [](double, const double*) {};

}  // namespace

TEST_CASE("slider-cranks alone keep their energy in time form") {
  // No gas, no friction: J(th) w^2 / 2 is constant. Goal of the project: 1e-9, twenty turns from 80 rad/s.
  Model model{};
  model.stations = 1;
  model.speed_ratio[0] = 1.0;
  Running system(model, launch_crank);
  std::array<double, most_state> state{};
  state[1] = 80.0;
  const double before = system.stored(state.data());
  double worst = 0.0, slowest = 80.0;
  const auto observe = [&](double, const double* x) {
    worst = std::max(worst, relative_error(system.stored(x), before));
    slowest = std::min(slowest, x[1]);
  };
  const AdaptiveStats stats = integrate_adaptive(system, 0.0, 1.6, state.data(), {1e-12, 1e-13, 1e-2}, observe);
  REQUIRE(stats.end == SteppingEnd::reached);
  CHECK(worst < 1e-9);
  CHECK(slowest < 75.0);  // the inertia does vary: without it the check would be empty
}

TEST_CASE("what a running-down launch loses is what its parts dissipated") {
  for (const Gear gear : {Gear::ahead, Gear::astern, Gear::neutral}) {
    CAPTURE(static_cast<int>(gear));
    const Model model = compile(assemble(sample::launch(), at_rpm(1000, gear)), {5.0, 0.01, 1e-4});
    Running system(model, launch_crank);
    std::array<double, most_state> state = wound_up(model);
    system.work.mean_crank_speed = 100.0;
    remember_friction(model, state.data(), system.work);
    const double before = system.stored(state.data());
    std::array<double, most_couplings> held{};
    for (int i = 0; i < model.couplings(); ++i)
      held[static_cast<std::size_t>(i)] = coupling_energy(model, i, state.data(), system.work);
    const AdaptiveStats stats = integrate_adaptive(system, 0.0, 0.3, state.data(), {1e-9, 1e-11, 2e-5}, nothing);
    REQUIRE(stats.end == SteppingEnd::reached);
    const auto slot = [&](int index) { return state[static_cast<std::size_t>(index)]; };
    double dissipated = slot(model.engine_friction_slot());
    for (int i = 0; i < model.couplings(); ++i) {
      const double lost = slot(model.coupling_work_slot(i)) + held[static_cast<std::size_t>(i)] -
                          coupling_energy(model, i, state.data(), system.work);
      CHECK(lost > -1e-6);  // no coupling gives more than it took
      dissipated += lost;
    }
    for (int i = 0; i < model.loads(); ++i) dissipated += slot(model.load_work_slot(i));
    CHECK(slot(model.gas_work_slot()) == 0.0);
    CHECK(dissipated > 0.05 * before);
    // 1e-6: the slider is frozen within a step and so of second order, at steps of 2e-5 s
    CHECK(relative_error(before - dissipated, system.stored(state.data())) < 1e-6);
  }
}

TEST_CASE("a plate stores what its stages, its stop and its slider hold") {
  // By hand at 17 degrees: 9 N m/deg over 0.5..4, 16 over 4..17 from 31.5 N m on, a stop of 1600 over the last degree,
  // and a slider at its presliding angle of 0.1 degrees with 3 N m.
  const Model model = compile(assemble(sample::launch(), at_rpm(1000)), {});
  std::array<double, most_state> state{};
  state[1] = -17.0 * degree;
  Workspace<double> work{};
  remember_friction(model, state.data(), work);
  const double in_degrees = 0.5 * 9 * 3.5 * 3.5 + 31.5 * 13 + 0.5 * 16 * 13 * 13 + 0.5 * 1600 + 0.5 * 3 * 0.1;
  CHECK(relative_error(coupling_energy(model, model.first_damper(), state.data(), work), in_degrees * degree) < 1e-12);
}

TEST_CASE("teeth within their backlash store nothing, pressed teeth half of torque times penetration") {
  const Model model = compile(assemble(sample::launch(), at_rpm(1000)), {});
  std::array<double, most_state> state{};
  const auto stored_at = [&](double twist) {  // twist = input - 2 x output
    state[2] = -twist / 2.0;
    return coupling_energy(model, model.first_mesh(), state.data(), {});
  };
  CHECK(stored_at(0.12 * degree) == 0.0);
  CHECK(stored_at(-0.12 * degree) == 0.0);
  for (const double side : {1.0, -1.0})
    CHECK(relative_error(stored_at(side * (0.125 * degree + 1e-4)), 0.5 * 6e5 * 1e-8) < 1e-9);
}

TEST_CASE("an audit without throughput has no relative defect") {
  CHECK(EnergyAudit{}.relative_defect() == 0.0);
  EnergyAudit audit;
  audit.defect = 0.5;
  audit.throughput = 200.0;
  CHECK(audit.relative_defect() == 0.0025);
}
