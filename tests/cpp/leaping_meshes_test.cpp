// Teeth over whole steps against what is known of a gear that strikes a held flank.
#include "calmshaft/simulate/leaping_meshes.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>

using namespace calmshaft;

namespace {

constexpr double stiffness = 4e5, inertia = 0.0042, half_backlash = 0.01;  // [N m/rad], [kg m^2], [rad]

// A free gear whose mate is held.
Model held_pair(double damping_factor) {
  Model model{};
  model.stations = 2;
  model.meshes = 1;
  model.mesh_joint[0] = {0, 1};
  model.mesh[0] = {false, 1.0, half_backlash, {stiffness, damping_factor}};
  return model;
}

struct Pair {
  explicit Pair(double damping_factor) : model(held_pair(damping_factor)) {}

  // Torque in the teeth at a twist that grows with `rate` half of `step` before, while `push` drives the gear onto
  // them.
  double torque(double twist, double rate, double step, double push = 0.0) {
    const std::array<double, 2> angle{0.0, -twist}, speed{0.0, -rate}, looseness{0.0, 1.0 / inertia};
    work.station_torque[0] = 0.0;
    work.station_torque[1] = -push;
    const std::array<double, 2> gained{0.0, 0.5 * step * (work.coupling_torque[0] - push) / inertia};
    const Leap<double> leap{angle.data(), speed.data(), gained.data(), looseness.data(), 0.5 * step, step};
    teeth.meet(model, leap, work);
    teeth.apply(model, looseness.data(), work);
    return work.coupling_torque[0];
  }

  // Speed over speed of approach after a blow that begins `early` of a step before a node.
  double rebound(double approach, double step, double early) {
    double rate = approach, twist = half_backlash - (3.0 - early) * step * approach;
    work.coupling_torque[0] = 0.0;
    for (int i = 0; i < 200; ++i) {
      rate -= step * torque(twist, rate, step) / inertia;
      twist += step * rate;
    }
    return -rate / approach;
  }

  Model model;
  Workspace<double> work{};
  LeapingMeshes<Model, double> teeth;
};

}  // namespace

TEST_CASE("the swept depth is the weighted mean over the way, its share the part in contact") {
  // mean of max(0, d + r s) with weights 1 - |s| over -1 <= s <= 1: r (1 + d/r)^3 / 6 up to d = 0, beyond it d more
  // than that of -d; of a step at 0: (1 + d/r)^2 / 2, beyond it 1 less that of -d  (closed form)
  for (const double depth : {-0.9, -0.3, 0.0, 0.4, 1.0}) {
    const SweptContact<double> found = swept_contact(2.0 * depth, 2.0);
    const double short_of = 1.0 - std::fabs(depth);
    CHECK(found.depth ==
          doctest::Approx(std::fmax(2.0 * depth, 0.0) + 2.0 * std::pow(short_of, 3) / 6.0).epsilon(1e-14));
    const double share = 0.5 * short_of * short_of;
    CHECK(found.share == doctest::Approx(depth > 0 ? 1.0 - share : share).epsilon(1e-14));
  }
  CHECK(swept_contact(2.0, 1.0).depth == 2.0);
  CHECK(swept_contact(-2.0, 1.0).depth == 0.0);
  CHECK(swept_contact(-2.0, 1.0).share == 0.0);
}

TEST_CASE("in steps that vanish the torque is that of the contact law, on either flank") {
  Pair pair(0.6);
  for (const double twist : {half_backlash + 1e-4, -half_backlash - 1e-4, 0.5 * half_backlash})
    for (const double rate : {0.3, -0.3}) {
      const double law = gap_torque(pair.model.mesh[0].contact, half_backlash, half_backlash, twist, rate);
      pair.work.coupling_torque[0] = 0.0;
      CHECK(pair.torque(twist, rate, 0.0) == doctest::Approx(law).epsilon(1e-12));
    }
}

TEST_CASE("a gear leaves an elastic flank as fast as it came, wherever in a step it strikes") {
  // energy is kept (closed form); steps of 0.5 rad of the swing on the teeth. Read at the node alone, the depth would
  // make the speed depend by several per cent on the place.
  Pair pair(0.0);
  const double step = 0.5 / std::sqrt(stiffness / inertia);
  for (double early = 0.0; early < 1.0; early += 0.0625) {
    CAPTURE(early);
    CHECK(std::fabs(pair.rebound(0.5, step, early) - 1.0) < 3e-3);
  }
}

TEST_CASE("a damped blow takes what the contact law takes") {
  // Hunt-Crossley: the end speed u of a blow from v obeys chi (v + u) = ln((1 + chi v) / (1 - chi u))  (closed form)
  const double chi = 0.6, approach = 0.5;
  double low = 0.0, high = approach;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    const bool slower = chi * (approach + middle) > std::log((1 + chi * approach) / (1 - chi * middle));
    (slower ? low : high) = middle;
  }
  Pair pair(chi);
  const double step = 0.5 / std::sqrt(stiffness / inertia);
  for (double early = 0.0; early < 1.0; early += 0.125)
    CHECK(pair.rebound(approach, step, early) == doctest::Approx(low / approach).epsilon(3e-3));
}

TEST_CASE("pressed on a flank a gear swings with the frequency of its teeth") {
  // twist = mean + a cos w t (closed form). Of fourth order: 8 swings end within 1 % of the amplitude; with the torque
  // of the node they would be off by half a radian (w^2 h^2 / 24 of the phase).
  const double push = 100.0, mean = half_backlash + push / stiffness, amplitude = 0.3 * push / stiffness, phase = 0.5;
  const double step = phase / std::sqrt(stiffness / inertia);
  Pair pair(0.0);
  double twist = mean + amplitude, rate = amplitude * (1.0 - std::cos(phase)) / step;
  pair.work.coupling_torque[0] = 0.0;
  for (int n = 1; n <= 100; ++n) {
    rate += step * (push - pair.torque(twist, rate, step, push)) / inertia;
    twist += step * rate;
    REQUIRE(std::fabs(twist - mean - amplitude * std::cos(n * phase)) < 0.01 * amplitude);
  }
}
