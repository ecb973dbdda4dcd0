// Running measures against closed forms of known signals.
#include "calmshaft/simulate/cycle_meter.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <functional>
#include <memory>
#include <numbers>
#include <numeric>

using namespace calmshaft;

namespace {

constexpr double pi = std::numbers::pi;
constexpr int steps = 720;
constexpr int bins = 360;
constexpr double backlash = 0.3;  // [rad] half

struct Signal {
  std::function<double(double)> torque, twist;  // of the share 0..1 of the cycle
};

// One mesh between two stations, read over a cycle of 0.1 s.
CycleMeter<double> metered(const Signal& signal) {
  Model model{};
  model.stations = 2;
  model.meshes = 1;
  model.mesh_joint[0] = {0, 1};
  model.mesh[0] = {true, 1.0, backlash, {1e5, 0.0}};
  Workspace<double> work{};
  CycleMeter<double> meter{};
  MeterReader<Model, double> reader(model, meter, 0, steps, bins, 0.0);
  for (int i = 0; i <= steps; ++i) {
    const double share = static_cast<double>(i) / steps;
    const double clock = 0.1 * share, crank_speed = 100.0 + 5.0 * std::sin(2 * pi * share);
    work.coupling_torque[0] = signal.torque(share);
    work.coupling_twist[0] = signal.twist(share);
    work.coupling_depth[0] = depth_beyond(backlash, backlash, work.coupling_twist[0]);
    if (i == 0)
      reader.first(work, clock, crank_speed);
    else
      i < steps ? reader.next(work, clock, crank_speed) : reader.last(work, clock, crank_speed);
  }
  return meter;
}

double none(double) { return 0.0; }

}  // namespace

TEST_CASE("the extreme of a cubic is found between its middle samples") {
  // y = 7 - 3 (x - 0.3)^2 + 0.2 (x - 0.3)^3 at -1, 0, 1, 2: greatest 7 at 0.3 (closed form)
  const auto cubic = [](double x) { return 7.0 - 3.0 * std::pow(x - 0.3, 2) + 0.2 * std::pow(x - 0.3, 3); };
  CHECK(extreme_between(cubic(-1), cubic(0), cubic(1), cubic(2)) == doctest::Approx(7.0).epsilon(1e-5));
}

TEST_CASE("samples that rise or fall throughout have no extreme between them") {
  CHECK(extreme_between(1.0, 4.0, 9.0, 16.0) == 4.0);
  CHECK(extreme_between(-4.0, -2.0, 2.0, 4.0) == -2.0);
}

TEST_CASE("teeth that open or close between two nodes are no peak") {
  CHECK(extreme_between(0.0, 0.0, 0.0, 5.0) == 0.0);
  CHECK(extreme_between(5.0, 0.0, 0.0, 5.0) == 0.0);
  CHECK(extreme_between(-5.0, -1.0, 0.0, -5.0) == 0.0);  // and do not push the other way
}

TEST_CASE("level samples are their own extreme") { CHECK(extreme_between(4.0, 4.0, 4.0, 4.0) == 4.0); }

TEST_CASE("what flat samples lack of a peak is given back to it") {
  // a mean with weights 1 - |s| over steps of 0.2 rad on either side: 24 cos t (sin(0.1) / 0.1)^2 (closed form)
  const double held = 24.0 * std::pow(std::sin(0.1) / 0.1, 2);
  const auto sample = [held](double place) { return held * std::cos(0.2 * place); };
  const double found = extreme_between(sample(-1.3), sample(-0.3), sample(0.7), sample(1.7), 1.0 / 12.0);
  CHECK(std::fabs(found - 24.0) < 2e-3);  // of fourth order in the step
  CHECK(std::fabs(held - 24.0) > 0.07);
}

TEST_CASE("the times on both sides of a gap are shares of a straight line's length") {
  const auto times = [](double depth_before, double depth, double twisted) {
    const GapTimes<double> found = gap_times(depth_before, depth, twisted, 1.0);
    return std::pair(found.drive, found.coast);
  };
  const auto near = [](double value) { return doctest::Approx(value).epsilon(1e-14); };
  CHECK(times(0.0, 3.0, 4.0) == std::pair(0.75, 0.0));   // from 1 before the flank to 3 beyond it
  CHECK(times(3.0, 0.0, -4.0) == std::pair(0.75, 0.0));  // and back
  CHECK(times(0.0, 0.0, 2.0) == std::pair(0.0, 0.0));    // within the gap
  CHECK(times(1.0, 2.0, 1.0) == std::pair(1.0, 0.0));    // on the drive flank throughout
  CHECK(times(-2.0, -1.0, 1.0) == std::pair(0.0, 1.0));  // on the coast flank throughout
  const auto [drive, coast] = times(-1.0, 2.0, 5.0);     // across the whole gap of 2
  CHECK(drive == near(0.4));
  CHECK(coast == near(0.2));
}

TEST_CASE("the torque's mean, peaks and the crank's speeds are those of the signal") {
  // a peak of order 3 between the nodes: y = 20 + 8 sin(6 pi x + 0.01)
  const auto torque = [](double x) { return 20.0 + 8.0 * std::sin(6 * pi * x + 0.01); };
  const CycleMeter<double> meter = metered({torque, none});
  CHECK(meter.channel[0].torque_sum / steps == doctest::Approx(20.0).epsilon(1e-12));
  // the cubic's own error for a sine is 3 (w h)^4 / 128 of its amplitude at most, here below 3e-9
  CHECK(std::fabs(meter.channel[0].torque_greatest - 28.0) < 1e-6);
  CHECK(std::fabs(meter.channel[0].torque_least - 12.0) < 1e-6);
  CHECK(meter.speed_least == doctest::Approx(95.0).epsilon(1e-12));
  CHECK(meter.speed_greatest == doctest::Approx(105.0).epsilon(1e-12));
}

TEST_CASE("times on both flanks are those beyond the backlash") {
  // twist = 0.6 sin(2 pi x): beyond +-0.3 for (1/2 - 1/6) of the time, a third on either side; chords are off by (w
  // h)^2
  const CycleMeter<double> meter = metered({none, [](double x) { return 0.6 * std::sin(2 * pi * x); }});
  CHECK(std::fabs(meter.channel[0].drive_time / 0.1 - 1.0 / 3.0) < 1e-5);
  CHECK(std::fabs(meter.channel[0].coast_time / 0.1 - 1.0 / 3.0) < 1e-5);
  CHECK(meter.channel[0].twist_greatest == doctest::Approx(0.6).epsilon(1e-12));
  CHECK(meter.channel[0].twist_least == doctest::Approx(-0.6).epsilon(1e-12));
}

TEST_CASE("a twist that never leaves one flank spends the whole cycle on it") {
  const CycleMeter<double> meter = metered({none, [](double x) { return 0.5 + 0.1 * std::cos(4 * pi * x); }});
  CHECK(meter.channel[0].drive_time == doctest::Approx(0.1).epsilon(1e-12));
  CHECK(meter.channel[0].coast_time == 0.0);
}

TEST_CASE("the bins share out all torque, and keep a steady one even") {
  const CycleMeter<double> even = metered({[](double) { return 11.0; }, none});
  for (int i = 0; i < bins; ++i) REQUIRE(even.bin[i] == doctest::Approx(11.0 * steps / bins).epsilon(1e-12));
  const CycleMeter<double> varied = metered({[](double x) { return 3.0 + x * x; }, none});
  const double sum = std::accumulate(varied.bin, varied.bin + bins, 0.0);
  CHECK(sum == doctest::Approx(varied.channel[0].torque_sum).epsilon(1e-12));
}

TEST_CASE("a cosine lies in the bins at its own phase") {
  // triangular weights are even about the bin's node, so the first bin of cos(2 pi x) is the greatest
  const CycleMeter<double> meter = metered({[](double x) { return std::cos(2 * pi * x); }, none});
  for (int i = 1; i < bins; ++i) REQUIRE(meter.bin[i] <= meter.bin[0]);
  for (int i = 1; i < bins / 2; ++i) REQUIRE(std::fabs(meter.bin[i] - meter.bin[bins - i]) < 1e-12);
}
