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
#include "sample_line.hpp"

using namespace calmshaft;

namespace {

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
  Model::Damper& damper = model.damper[model.dampers++];
  damper.from = 0;
  damper.to = 1;
  damper.presliding_angle = 1e-6;
  damper.drive_stop = damper.coast_stop = 1e3;
  for (const double side : {1.0, -1.0})
    for (const auto& [corner, slope] : corner_and_slope) damper.ramp[damper.ramps++] = {side, corner, slope};
  return model;
}

struct Swing {
  std::vector<double> time, angle, speed;
};

// Free motion of station 1 from rest at `start`.
Swing released(const Model& model, double start, double duration, double step) {
  OnAWall system(model);
  std::array<double, most_state> state{};
  state[1] = start;
  Swing swing;
  const auto observe = [&](double at, const double* x) {
    swing.time.push_back(at);
    swing.angle.push_back(x[1]);
    swing.speed.push_back(x[model.stations + 1]);
  };
  integrate_adaptive(system, 0.0, duration, state.data(), {1e-10, 1e-13, step, 50'000'000}, observe);
  return swing;
}

// Where the speed changes sign: times by straight interpolation.
std::vector<double> turning_times(const Swing& swing) {
  std::vector<double> times;
  for (std::size_t i = 1; i < swing.time.size(); ++i) {
    const double a = swing.speed[i - 1], b = swing.speed[i];
    if (a * b < 0) times.push_back(swing.time[i - 1] + (swing.time[i] - swing.time[i - 1]) * a / (a - b));
  }
  return times;
}

double period(const Model& model, double start, double expected) {
  const std::vector<double> turns = turning_times(released(model, start, 2.2 * expected, expected / 4000));
  REQUIRE(turns.size() >= 3);
  return turns[2] - turns[0];
}

}  // namespace

TEST_CASE("free play lengthens the period of a swing by the time to cross it") {
  // T = 2 pi / w + 4 d / (w (A - d)): closed form, checked by energy quadrature. w = 100 rad/s, d = 0.01, A = 0.02.
  const double expected = 0.1028318531;
  CHECK(period(sprung(0.5, {{0.01, 0.5 * 1e4}}), 0.02, expected) == doctest::Approx(expected).epsilon(1e-5));
}

TEST_CASE("a second stage shortens the period as its closed form says") {
  // w1 = 50 rad/s below 0.01 rad, w2 = 200 beyond, amplitude 0.02: closed form piece by piece.
  const double expected = 0.0487569655;
  const Model model = sprung(0.5, {{0.0, 0.5 * 2500.0}, {0.01, 0.5 * (40000.0 - 2500.0)}});
  CHECK(period(model, 0.02, expected) == doctest::Approx(expected).epsilon(1e-5));
}

TEST_CASE("dry friction takes the same angle off every half swing") {
  // Coulomb decay: 2 F/k per half cycle, e.g. "Coulomb damping" in any vibration handbook; k = 1000, F = 2, A = 0.03.
  Model model = sprung(0.1, {{0.0, 1000.0}});
  model.damper[0].slider_stiffness = 2.0 / 1e-6;
  const Swing swing = released(model, 0.03, 0.12, 1e-5);
  std::vector<double> peaks;
  for (std::size_t i = 1; i + 1 < swing.speed.size(); ++i)
    if (swing.speed[i - 1] * swing.speed[i] < 0) peaks.push_back(std::fabs(swing.angle[i]));
  REQUIRE(peaks.size() >= 3);
  // presliding of 1e-6 rad is the tolerance: the slider gives that much before it holds
  for (std::size_t i = 0; i < 3; ++i) CHECK(peaks[i] == doctest::Approx(0.03 - 0.004 * static_cast<double>(i + 1)).epsilon(2e-3));
}

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
  CHECK(work == doctest::Approx(4 * torque * (amplitude - presliding)).epsilon(1e-4));
  CHECK(work == doctest::Approx(2.0).epsilon(1e-3));
}

TEST_CASE("teeth that meet at the reference speed part at restitution times it") {
  // Hunt and Crossley (1975) for small losses: chi = 3 (1 - e) / (2 v0); at e = 0.9 the series' next term is below 2 %.
  Model model = two_stations(0.01);
  Model::Mesh& mesh = model.mesh[model.meshes++];
  mesh = {0, 1, true, 1.0, 0.002, {1e5, damping_factor(0.9, 0.5)}};
  OnAWall system(model);
  std::array<double, most_state> state{};
  state[3] = -0.5;  // towards the drive flank: twist = -angle
  const auto nothing = [](double, const double*) {};
  integrate_adaptive(system, 0.0, 0.006, state.data(), {1e-11, 1e-14, 1e-6, 50'000'000}, nothing);
  CHECK(-state[1] < 0.002);  // apart again
  CHECK(state[3] == doctest::Approx(0.9 * 0.5).epsilon(0.02));
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
  CHECK(in_angle[0] == doctest::Approx(1.0 / 85.0));
  for (int i = 1; i < model.state_size(); ++i)
    CHECK(in_angle[static_cast<std::size_t>(i)] * 85.0 == doctest::Approx(in_time[static_cast<std::size_t>(i)]));
}
