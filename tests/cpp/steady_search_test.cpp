#include "calmshaft/simulate/steady_search.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>
#include <random>

using namespace calmshaft;

namespace {

SearchSetup setup() {
  SearchSetup made{};
  made.asked_speed = 100.0;
  made.cycle_angle = 4 * std::numbers::pi;
  made.fuelling = Fuelling::governed;
  made.fuelling_slope = 200.0;
  made.resistance_slope = 1.0;
  made.torque_tolerance = 0.1;
  made.twist_tolerance = 1e-4;
  return made;
}

// A cycle at the asked speed with a peak to peak torque.
CycleTotals cycle(double ripple) {
  CycleTotals totals;
  totals.channel[0].torque_greatest = ripple;
  totals.duration = 4 * std::numbers::pi / 100.0;
  return totals;
}

Status settled_on(const std::function<double(int)>& ripple, int& cycles, int& period) {
  SteadySearch search(setup());
  while (!search.settled()) search.take(cycle(ripple(search.cycles())));
  cycles = search.cycles();
  period = static_cast<int>(search.period().size());
  return *search.settled();
}

}  // namespace

TEST_CASE("equal cycles are periodic after the window of eight") {
  int cycles = 0, period = 0;
  CHECK(settled_on([](int) { return 20.0; }, cycles, period) == Status::periodic);
  CHECK(cycles == 8);
  CHECK(period == 1);
}

TEST_CASE("cycles that alternate by three are subharmonic with period three") {
  int cycles = 0, period = 0;
  CHECK(settled_on([](int i) { return 20.0 + 5.0 * (i % 3); }, cycles, period) == Status::subharmonic);
  CHECK(period == 3);
}

TEST_CASE("cycles that alternate ever less are not subharmonic but settle") {
  int cycles = 0, period = 0;
  CHECK(settled_on([](int i) { return 20.0 + 5.0 * std::pow(-0.92, i); }, cycles, period) == Status::periodic);
  CHECK(cycles > 50);  // eight cycles lie within 0.05 of the last once 5 * 0.92^n (1 + 0.92^-7) does
}

TEST_CASE("a motion that swings ever less is watched until it repeats") {
  // within 1 % of its mean from the start on, so that statistics would do
  int cycles = 0, period = 0;
  const auto calming = [](int i) { return 100.0 + 3.0 * std::pow(0.9, i) * std::cos(0.7 * i); };
  CHECK(settled_on(calming, cycles, period) == Status::periodic);
}

TEST_CASE("cycles that never repeat end with statistics") {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> spread(0.0, 2.0);
  int cycles = 0, period = 0;
  CHECK(settled_on([&](int) { return 20.0 + spread(random); }, cycles, period) == Status::aperiodic);
  CHECK(cycles >= 24);
  CHECK(cycles < 72);
}

TEST_CASE("a motion that still drifts is watched longer") {
  int cycles = 0, period = 0;
  CHECK(settled_on([](int i) { return 20.0 + 0.5 * i; }, cycles, period) == Status::aperiodic);
  CHECK(cycles >= 48);
}

TEST_CASE("statistics leave out the cycles in which the motion still settles") {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> spread(-1.0, 1.0);
  SteadySearch search(setup());
  while (!search.settled()) search.take(cycle(20.0 + 40.0 * std::exp(-search.cycles() / 6.0) + spread(random)));
  CHECK(*search.settled() == Status::aperiodic);
  double mean = 0;
  for (const CycleTotals& one : search.statistics())
    mean += one.ripple(0) / static_cast<double>(search.statistics().size());
  CHECK(search.statistics().size() >= 16);
  CHECK(mean ==
        doctest::Approx(20.0).epsilon(0.03));  // 3 standard errors of 16 cycles; all from cycle 9 on give 22 or more
}

TEST_CASE("statistics wait for the asked speed") {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> spread(-1.0, 1.0);
  SteadySearch search(setup());
  while (!search.settled()) {
    CycleTotals slow = cycle(20.0 + spread(random));
    slow.duration *= search.cycles() < 40 ? 1.002 : 1.0;
    search.take(std::move(slow));
  }
  CHECK(*search.settled() == Status::aperiodic);
  CHECK(search.cycles() >= 40 + 16);
}

TEST_CASE("the speed's correction does not hunt where it is averaged over cycles that never repeat") {
  // a line without resistance: the speed keeps what it is given, the torque of the fuelling moves it by 1 rad/s a cycle
  std::mt19937 random(1);
  std::uniform_real_distribution<double> spread(-5.0, 5.0);
  SteadySearch search(setup());
  double speed = 100.0, least = speed;
  for (int i = 0; i < 70; ++i) {
    if (i == 20) speed += 1.0;
    CycleTotals now = cycle(20.0 + spread(random));
    now.duration = setup().cycle_angle / speed;
    search.take(std::move(now));
    speed += search.correction().speed;
    if (i > 20) least = std::min(least, speed);
  }
  CHECK(least > 99.8);  // no more than a fifth of the knock the other way
  CHECK(speed == doctest::Approx(100.0).epsilon(5e-4));
}

TEST_CASE("free teeth that wander are not at rest, free teeth that stay are") {
  SearchSetup meshed = setup();
  meshed.watched_stiffness = 1e5;
  meshed.float_tolerance = 1e-4;
  for (const double wandering : {0.0, 1e-3}) {
    SteadySearch search(meshed);
    while (!search.settled()) {
      CycleTotals free = cycle(0.0);
      free.channel[0].twist_least = free.channel[0].twist_greatest = wandering * search.cycles();
      search.take(std::move(free));
    }
    CHECK(*search.settled() == (wandering > 0 ? Status::aperiodic : Status::periodic));
  }
}

TEST_CASE("a governed correction pulls towards the asked speed and removes the torque left over") {
  SteadySearch search(setup());
  CycleTotals slow = cycle(20.0);
  slow.duration *= 1.01;       // 1 % slow
  slow.momentum_change = 0.5;  // and speeding up
  search.take(std::move(slow));
  const Correction correction = search.correction();
  CHECK(correction.speed == doctest::Approx(100.0 - 100.0 / 1.01));
  const double surplus = 0.5 / (1.01 * 4 * std::numbers::pi / 100.0);
  CHECK(correction.fuelling == doctest::Approx((correction.speed - surplus) / 200.0));
}
