#include "calmshaft/model/dynamics.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <numbers>
#include <vector>

#include "calmshaft/engine/engine_tables.hpp"
#include "calmshaft/model/energy.hpp"
#include "calmshaft/solve/time_stepping.hpp"
#include "linear_fixtures.hpp"
#include "sample_line.hpp"

using namespace calmshaft;
using fixtures::relative_error;

namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

// One inertia on a wall: a crank too heavy to move holds the other end, so that published single-degree answers apply.
class OnAWall final : public System {
 public:
  explicit OnAWall(const Model& model) : model_(model) {}
  int size() const override { return model_.state_size(); }
  void derivative(double, const double* state, double* rate) override {
    derivative_in_time(model_, {0.0, 0.0, 0.0}, state, work, rate);
  }
  void after_step(double, const double* state) override { remember_friction(model_, state, work); }
  Workspace<double> work{};

 private:
  const Model& model_;
};

constexpr double wall = 1e12;  // [kg m^2] moves less than rounding

Model two_stations(double inertia) {
  Model model{};
  model.stations = 2;
  model.inertia[0] = wall;
  model.inertia[1] = inertia;
  model.inverse_inertia[1] = 1.0 / inertia;
  model.speed_ratio[0] = model.speed_ratio[1] = 1.0;
  return model;
}

// A damper whose stages are the given slopes from the given corners, the same on both sides.
Model sprung(double inertia, const std::vector<std::pair<double, double>>& corner_and_slope) {
  Model model = two_stations(inertia);
  model.damper_joint[0] = {0, 1};
  Model::Damper& damper = model.damper[model.dampers++];
  damper.presliding_angle = 1e-6;
  damper.drive_stop = damper.coast_stop = 1e3;
  for (const double side : {1.0, -1.0})
    for (const auto& [corner, slope] : corner_and_slope) damper.ramp[damper.ramps++] = {side, corner, slope};
  return model;
}

}  // namespace

TEST_CASE("the loop of a friction slider encloses four times torque times amplitude") {
  // E = 4 H A with H half the hysteresis width; H = 25, A = 0.02: 2.0 J (closed form). The slider's presliding
  // takes 4 H z off each turn, so the enclosed area is 4 H (A - z).
  const double presliding = 1e-5, torque = 25.0, amplitude = 0.02;
  FrictionMemory<double> memory{};
  double work = 0.0, before = 0.0, torque_before = 0.0;
  const int nodes = 20000;
  for (int i = 1; i <= 3 * nodes; ++i) {
    const double twist = amplitude * std::sin(2 * std::numbers::pi * i / nodes);
    memory = {slider_twist(presliding, memory, twist), twist};
    const double now = torque / presliding * memory.slider_twist;
    if (i > 2 * nodes) work += 0.5 * (now + torque_before) * (twist - before);
    before = twist;
    torque_before = now;
  }
  CHECK(relative_error(work, 4 * torque * (amplitude - presliding)) < 1e-6);
  CHECK(relative_error(work, 2.0) < 1e-3);  // presliding over amplitude is 5e-4
}

TEST_CASE("teeth that meet at the reference speed part at restitution times it") {
  // Hunt and Crossley (1975) for small losses: chi = 3 (1 - e) / (2 v0); at e = 0.9 the series' next term is below 2 %.
  Model model = two_stations(0.01);
  model.mesh_joint[0] = {0, 1};
  Model::Mesh& mesh = model.mesh[model.meshes++];
  mesh = {true, 1.0, 0.002, {1e5, damping_factor(0.9, 0.5)}};
  OnAWall system(model);
  std::array<double, most_state> state{};
  state[3] = -0.5;  // towards the drive flank: twist = -angle
  const auto nothing = [](double, const double*) {};
  integrate_adaptive(system, 0.0, 0.006, state.data(), {1e-11, 1e-14, 1e-6, 50'000'000}, nothing);
  CHECK(-state[1] < 0.002);  // apart again
  CHECK(relative_error(state[3], 0.9 * 0.5) < 0.02);
}

TEST_CASE("a slider-crank alone keeps its energy") {
  // No gas, no friction: J(th) w^2 / 2 is constant. The tolerance is that of the cubic through table nodes.
  const EngineTables tables = EngineCycles(sample::launch_engine()).tables({}, 1440);
  Model model{};
  model.stations = 1;
  model.speed_ratio[0] = 1.0;
  std::array<double, most_state> state{}, rate{};
  Workspace<double> work{};
  state[1] = 80.0;
  const auto energy = [&](std::size_t node) { return 0.5 * tables.inertia[node % 1440] * state[1] * state[1]; };
  const double before = energy(0);
  const double step = tables.cycle / 720;
  for (std::size_t i = 0; i < 1440; i += 2) {  // classical Runge-Kutta on the nodes, written out
    const std::array<std::size_t, 4> nodes{i, i + 1, i + 1, i + 2};
    const std::array<double, 4> reach{0.0, 0.5, 0.5, 1.0}, weight{1.0, 2.0, 2.0, 1.0};
    const double start = state[1];
    double slope = 0.0, sum = 0.0;
    for (std::size_t k = 0; k < 4; ++k) {
      std::array<double, most_state> trial = state;
      trial[1] = start + reach[k] * step * slope;
      const std::size_t node = nodes[k] % 1440;
      derivative_in_crank_angle(model, {0.0, tables.inertia[node], tables.inertia_slope[node]}, trial.data(), work,
                                rate.data());
      slope = rate[1];
      sum += weight[k] * slope;
    }
    state[1] = start + step * sum / 6.0;
    CHECK(std::fabs(energy(i + 2) / before - 1.0) < 1e-9);
  }
}

TEST_CASE("time form and crank-angle form are one another times the crank's speed") {
  Model model = sprung(0.5, {{0.01, 500.0}});
  model.inertia[0] = 0.6;
  std::array<double, most_state> state{}, in_time{}, in_angle{};
  state[1] = -0.03;
  state[2] = 85.0;
  state[3] = 80.0;
  Workspace<double> work{};
  const CrankDrive<double> drive{40.0, 0.1, 0.02};
  derivative_in_time(model, drive, state.data(), work, in_time.data());
  derivative_in_crank_angle(model, drive, state.data(), work, in_angle.data());
  CHECK(relative_error(in_angle[0], 1.0 / 85.0) < 1e-15);
  for (int i = 1; i < model.state_size(); ++i)
    CHECK(std::fabs(in_angle[at(i)] * 85.0 - in_time[at(i)]) <= 1e-14 * std::fabs(in_time[at(i)]));
}
