// Systems that swing by themselves: a closed form, momentum and energy, and what is refused.
#include "calmshaft/simulate/oscillation.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "calmshaft/core/errors.hpp"

using namespace calmshaft;

namespace {

const AdaptiveOptions fine{1e-10, 1e-13, 1e-3};

// Two discs on a spring: w^2 = k (J1 + J2) / (J1 J2) = 12000, w = 109.5 rad/s.
MassElastic two_discs() {
  return {{{"crank", 0.5, 1.0}, {"gearbox", 0.1, 1.0}}, {LinearSpring{"plate", 0, 1, 1000.0, 0.0}}, {}};
}

// The same with a gear pair without play in front of the second disc, which turns at half speed.
MassElastic geared() {
  MassElastic system = two_discs();
  system.stations.push_back({"wheel", 0.4, 0.5});
  system.couplings.push_back(GearMesh{"teeth", 1, 2, 2.0, 0.0, {1e5, 0.0}, true});
  return system;
}

std::string refusal(const MassElastic& system, const StartMotion& start = {{0.0, 0.0}, {0.0, 0.0}}) {
  try {
    oscillate(system, {}, start, 0.01, 0.0, fine);
  } catch (const SolveError& error) {
    return error.what();
  }
  return "";
}

bool names(const std::string& message, const char* word) { return message.find(word) != std::string::npos; }

}  // namespace

TEST_CASE("two discs let go swing at their natural frequency about their common centre") {
  const double w = std::sqrt(12000.0);
  const Oscillation motion = oscillate(two_discs(), {}, {{0.01, -0.05}, {0.0, 0.0}}, 0.2, 0.0, fine);
  CHECK(motion.time.front() == 0.0);
  CHECK(motion.time.back() == doctest::Approx(0.2));
  for (std::size_t n = 0; n < motion.time.size(); ++n) {
    CHECK(std::fabs(motion.twist[0][n] - 0.06 * std::cos(w * motion.time[n])) < 1e-8);
    CHECK(std::fabs(0.5 * motion.speed[0][n] + 0.1 * motion.speed[1][n]) < 1e-10);
    CHECK(std::fabs(0.1 * motion.acceleration[1][n] - motion.torque[0][n]) < 1e-9);
  }
}

TEST_CASE("forced below resonance the spring carries its closed-form torque") {
  // k T0 / (J1 (wn^2 - w^2)) cos wt, started on its steady motion
  const double w = 50.0, amplitude = 10.0 / (0.5 * (12000.0 - w * w));  // [rad/s], [rad] of twist
  const double crank = -(10.0 - 1000.0 * amplitude) / (0.5 * w * w), gearbox = -1000.0 * amplitude / (0.1 * w * w);
  CHECK(crank - gearbox == doctest::Approx(amplitude));
  const Oscillation motion = oscillate(two_discs(), {0.0, 10.0, w}, {{crank, gearbox}, {0.0, 0.0}}, 1.0, 0.5, fine);
  CHECK(motion.time.front() >= 0.5);
  for (std::size_t n = 0; n < motion.time.size(); ++n)
    CHECK(std::fabs(motion.torque[0][n] - 1000.0 * amplitude * std::cos(w * motion.time[n])) < 1e-6);
}

TEST_CASE("the work done on springs and teeth is what the discs lose") {
  const double pinion = -0.02, wheel = (pinion - 0.0002) / 2.0;  // teeth pressed by 0.0002 rad
  const Oscillation motion = oscillate(geared(), {}, {{0.0, pinion, wheel}, {100.0, 100.0, 50.0}}, 0.05, 0.0, fine);
  const auto moving = [&](std::size_t n) {
    const auto half = [&](double inertia, double speed) { return 0.5 * inertia * speed * speed; };
    return half(0.5, motion.speed[0][n]) + half(0.1, motion.speed[1][n]) + half(0.4, motion.speed[2][n]);
  };
  for (std::size_t n = 0; n < motion.time.size(); ++n) {
    CHECK(std::fabs(motion.angle[1][n] - 2.0 * motion.angle[2][n] - motion.twist[1][n]) < 1e-9);
    CHECK(std::fabs(moving(0) - moving(n) - motion.work[0][n] - motion.work[1][n]) < 1e-5);
  }
}

TEST_CASE("what is no tree, contradicts its ratios or has no start is refused by name") {
  CHECK(refusal(two_discs()).empty());
  CHECK(names(refusal(two_discs(), {{0.0}, {0.0}}), "start angle"));
  MassElastic loose = two_discs();
  loose.stations.push_back({"adrift", 1.0, 1.0});
  CHECK(names(refusal(loose), "every station but the first"));
  MassElastic backwards = two_discs();
  backwards.couplings = {LinearSpring{"plate", 1, 0, 1000.0, 0.0}};
  CHECK(names(refusal(backwards), "'plate'"));
  MassElastic contradicted = geared();
  contradicted.stations[2].speed_ratio = 1.0;
  CHECK(names(refusal(contradicted), "'teeth'"));
  MassElastic weightless = two_discs();
  weightless.stations[1].inertia = 0.0;
  CHECK(names(refusal(weightless), "'gearbox'"));
  MassElastic nowhere = two_discs();
  nowhere.loads = {Drag{"pump", 5, 1.0}};
  CHECK(names(refusal(nowhere), "load"));
}

TEST_CASE("a run that spends its evaluations says where it ended") {
  AdaptiveOptions poor = fine;
  poor.most_evaluations = 50;
  CHECK_THROWS_WITH_AS(oscillate(two_discs(), {}, {{0.0, 0.1}, {0.0, 0.0}}, 1.0, 0.0, poor),
                       doctest::Contains("ended at"), SolveError);
}
