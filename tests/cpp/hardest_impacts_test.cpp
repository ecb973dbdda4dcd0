// Peaks of impacts that steps are too long to see, against closed forms.
#include "hardest_impacts.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

using namespace calmshaft;

namespace {

constexpr double stiffness = 4e5, inertia = 0.0042, half_backlash = 0.01;  // [N m/rad], [kg m^2], [rad]
constexpr double looseness = 1.0 / inertia;

double step_of(double phase) { return phase / std::sqrt(stiffness * looseness); }

double peak_of(double speed, double damping_factor, double others = 0.0, double phase = 0.6) {
  const Model::ContactValues contact{stiffness, damping_factor};
  return impact_peak(contact, Impact<double>{speed, others}, looseness, step_of(phase));
}

// Hunt-Crossley from v_0: k L x^2 / 2 = (v_0 - v) / chi - ln((1 + chi v_0) / (1 + chi v)) / chi^2  (closed form),
// and the greatest of k x (1 + chi v) on the way.
double damped_peak(double approach, double chi) {
  double peak = 0.0;
  for (int i = 0; i <= 20'000; ++i) {
    const double v = approach * (1.0 - i / 20'000.0);
    const double square = 2.0 * ((approach - v) / chi - std::log((1 + chi * approach) / (1 + chi * v)) / (chi * chi));
    peak = std::fmax(peak, stiffness * std::sqrt(square / (stiffness * looseness)) * (1.0 + chi * v));
  }
  return peak;
}

// A free gear whose mate is held, at a node.
struct Pair {
  Pair() {
    model.stations = 2;
    model.meshes = 1;
    model.mesh_joint[0] = {0, 1};
    model.mesh[0] = {false, 1.0, half_backlash, {stiffness, 0.0}};
  }

  // `gap` [rad] before the drive flank, or before the coast flank below zero, with a rate [rad/s] towards it.
  void pass_node(double gap, double rate) {
    const double side = gap > 0 ? 1.0 : -1.0;
    const std::array<double, 2> speed{0.0, -side * rate}, gain{0.0, 0.0};
    work.coupling_twist[0] = side * (half_backlash - std::fabs(gap));
    work.coupling_rate[0] = side * rate;
    impacts.watch(model, 0, {speed.data(), gain.data(), step}, looseness, work);
  }

  std::array<double, 2> extremes() const {
    double least = 0.0, greatest = 0.0;
    impacts.add(model, 0, looseness, step, least, greatest);
    return {least, greatest};
  }

  double step = step_of(0.6);
  Model model{};
  Workspace<double> work{};
  HardestImpacts<Model, double> impacts;
};

}  // namespace

TEST_CASE("an elastic impact ends in the torque that its energy gives") {
  // J v^2 / 2 = T^2 / 2 k  (closed form)
  CHECK(peak_of(0.5, 0.0) == doctest::Approx(0.5 * std::sqrt(stiffness / looseness)).epsilon(5e-4));
}

TEST_CASE("torques that go on driving add theirs") {
  // T = T_s + sqrt(T_s^2 + k v^2 / L), T_s = a / L  (closed form); the peak comes later than that of the blow alone
  const double held = 3.0, speed = 0.5;
  const double peak = held + std::sqrt(held * held + stiffness * speed * speed / looseness);
  CHECK(peak_of(speed, 0.0, held * looseness) == doctest::Approx(peak).epsilon(1e-3));
}

TEST_CASE("a damped impact reaches what the contact law gives, however early") {
  for (const double chi : {0.3, 1.0, 3.0, 8.0}) {
    CAPTURE(chi);
    CHECK(peak_of(1.0, chi) == doctest::Approx(damped_peak(1.0, chi)).epsilon(5e-3));
  }
}

TEST_CASE("the hardest impact on either flank counts") {
  Pair pair;
  pair.pass_node(2e-5, 0.3);
  pair.pass_node(2e-5, 0.5);
  pair.pass_node(2e-5, 0.4);
  pair.pass_node(-1e-5, 0.2);
  const double per_speed = std::sqrt(stiffness / looseness);
  const auto [least, greatest] = pair.extremes();
  CHECK(greatest == doctest::Approx(0.5 * per_speed).epsilon(1e-3));
  CHECK(least == doctest::Approx(-0.2 * per_speed).epsilon(1e-3));
}

TEST_CASE("teeth that do not meet before the next node strike nothing") {
  Pair pair;
  pair.pass_node(1.01 * pair.step * 0.5, 0.5);
  pair.pass_node(2e-5, -0.5);  // on their way back
  const auto [least, greatest] = pair.extremes();
  CHECK(least == 0.0);
  CHECK(greatest == 0.0);
}
