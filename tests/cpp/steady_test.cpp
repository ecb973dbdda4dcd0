#include "calmshaft/simulate/steady.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "calmshaft/simulate/lanes.hpp"
#include "calmshaft/simulate/time_history.hpp"
#include "calmshaft/solve/modes.hpp"
#include "sample_line.hpp"

using namespace calmshaft;
using sample::at_rpm;

namespace {

double value(const SteadyResult& result, Measure measure) { return result.measures[index_of(measure)]; }

const PreparedLine& launch() {
  static const PreparedLine line(sample::launch());
  return line;
}

Condition with_dead(Condition condition, Fuelling fuelling = Fuelling::governed) {
  condition.strengths = {1, 1, 0, 1};
  condition.fuelling = fuelling;
  return condition;
}

}  // namespace

TEST_CASE("a governed line keeps its speed and balances its torques") {
  const SteadyResult found = steady(launch(), at_rpm(1820));
  REQUIRE(found.status == Status::periodic);
  CHECK(value(found, Measure::mean_rpm) == doctest::Approx(1820).epsilon(1e-3));
  // propeller law through rated torque less the drags of 3.75 and 1.3 N m, closed form; vibration adds second order
  const double propeller = (165.0 - 3.75 - 1.3) * std::pow(1820.0 / 2600.0, 2);
  CHECK(value(found, Measure::mesh_torque_mean) == doctest::Approx(propeller).epsilon(2e-3));
  CHECK(std::fabs(found.audit.relative_defect()) < 1e-3);
}

TEST_CASE("with fixed fuelling a dead cylinder slows the line") {
  const SteadyResult healthy = steady(launch(), at_rpm(1820));
  const SteadyResult weak = steady(launch(), with_dead(at_rpm(1820), Fuelling::fixed));
  CHECK(weak.fuelling == doctest::Approx(healthy.fuelling).epsilon(1e-3));
  CHECK(value(weak, Measure::mean_rpm) < 1700);
  CHECK(steady(launch(), with_dead(at_rpm(1820))).fuelling > 1.2 * healthy.fuelling);
}

TEST_CASE("the same condition in time form under step control has the same ripple") {
  // two engines: 0.5 % of the peak to peak torque where teeth stay in contact, 60 cycles after the same start
  for (const Condition& condition : {at_rpm(1000), with_dead(at_rpm(1000)), with_dead(at_rpm(1820))}) {
    const SteadyResult found = steady(launch(), condition);
    REQUIRE(found.status == Status::periodic);
    const TimeHistory history = time_history(launch(), condition, found.fuelling, {60, 1});
    REQUIRE(history.stats.end == SteppingEnd::reached);
    const auto mesh = static_cast<std::size_t>(watched_coupling(ConditionModel(launch(), condition).model));
    const auto [least, greatest] = std::minmax_element(history.torque[mesh].begin(), history.torque[mesh].end());
    CHECK(value(found, Measure::mesh_torque_ripple) == doctest::Approx(*greatest - *least).epsilon(5e-3));
  }
}

TEST_CASE("half the step changes no headline measure by more than half a per cent") {
  const SteadyResult coarse = steady(launch(), at_rpm(1000));
  const SteadyResult fine = steady(launch(), at_rpm(1000), {2 * coarse.steps_per_cycle});
  for (const Measure m : {Measure::mesh_torque_ripple, Measure::mesh_torque_vibratory, Measure::plate_twist_max})
    CHECK(value(coarse, m) == doctest::Approx(value(fine, m)).epsilon(5e-3));
}

TEST_CASE("marched by Runge-Kutta, calm motion has the same ripple, and both methods' books balance") {
  SteadyOptions classical;
  classical.method = Method::runge_kutta;
  for (const Condition& at : {at_rpm(1820), with_dead(at_rpm(1820))}) {
    const SteadyResult usual = steady(launch(), at), other = steady(launch(), at, classical);
    REQUIRE(usual.status == Status::periodic);
    REQUIRE(other.status == Status::periodic);
    // each method holds 0.3 % at its own steps, or half of what the search calls settled: 0.1 % of rated torque
    for (const Measure m : {Measure::mesh_torque_ripple, Measure::mesh_torque_vibratory})
      CHECK(std::fabs(value(other, m) - value(usual, m)) < std::fmax(6e-3 * value(usual, m), 0.5e-3 * 165.0));
    CHECK(std::fabs(usual.audit.relative_defect()) < 1e-6);
    CHECK(std::fabs(other.audit.relative_defect()) < 1e-6);
  }
}

TEST_CASE("a method that is not known is refused by its name") {
  CHECK(method_of("runge kutta") == Method::runge_kutta);
  CHECK(method_of("leapfrog") == usual_method);
  CHECK_THROWS_WITH(method_of("euler"), "method 'euler' is not known: write leapfrog or runge kutta");
}

TEST_CASE("peaks are withheld where the motion does not repeat, their statistics stand") {
  SteadyResult found;
  for (double rpm = 600; rpm < 1400 && found.status != Status::aperiodic; rpm += 50)
    found = steady(launch(), at_rpm(rpm));  // some speed at which the loaded teeth hammer
  REQUIRE(found.status == Status::aperiodic);
  CHECK(std::isnan(value(found, Measure::plate_twist_max)));
  const CycleStatistics& spread = found.spread[index_of(Measure::plate_twist_max)];
  CHECK(spread.lowest < spread.mean);
  CHECK(spread.mean < spread.highest);
  CHECK(spread.cycles >= 16);
  CHECK(value(found, Measure::mesh_separated_share) > 0.05);
}

TEST_CASE("in neutral the unloaded pair rattles and there is no loaded mesh to measure") {
  const SteadyResult found = steady(launch(), at_rpm(750, Gear::neutral));
  CHECK(value(found, Measure::unloaded_mesh_separated_share) > 0.1);
  CHECK(std::isnan(value(found, Measure::mesh_torque_mean)));
}

TEST_CASE("what cannot be solved has a status, a reason and no numbers") {
  Condition heavy = at_rpm(700);
  heavy.strengths = {1, 0, 0, 0};
  heavy.fuelling = Fuelling::fixed;
  heavy.load = LoadCase::torque;
  heavy.load_torque = 150.0;
  const SteadyResult stalled = steady(launch(), heavy);
  CHECK(stalled.status == Status::stalled);
  Line stiff = sample::launch();
  stiff.gearbox.ahead->contact.stiffness *= 1000.0;
  const SteadyResult failed = steady(PreparedLine(stiff), at_rpm(700));
  CHECK(failed.status == Status::failed);
  for (const SteadyResult& result : {stalled, failed}) {
    CHECK_FALSE(result.reason.empty());
    CHECK(std::isnan(value(result, Measure::mesh_torque_mean)));
  }
}

TEST_CASE("a lane's result does not depend on its neighbours") {
  const std::vector<Condition> conditions{
      at_rpm(1820), with_dead(at_rpm(1800)), at_rpm(1900), with_dead(at_rpm(1850)), at_rpm(1780), at_rpm(1810)};
  const int steps = ConditionModel(launch(), conditions[0]).steps_per_cycle();
  std::vector<SteadyResult> together(conditions.size());
  std::size_t handed_out = 0;
  const auto next = [&]() -> std::optional<LanePoint> {
    if (handed_out == conditions.size()) return std::nullopt;
    const std::size_t i = handed_out++;
    return LanePoint{i, &launch(), conditions[i]};
  };
  solve_in_lanes(steps, {}, next, [&](std::size_t i, SteadyResult&& result) { together[i] = std::move(result); });
  for (std::size_t i = 0; i < conditions.size(); ++i) {
    const SteadyResult alone = steady(launch(), conditions[i], {steps});
    CHECK(alone.status == together[i].status);
    for (std::size_t m = 0; m < measure_count; ++m) {
      const double a = alone.measures[m], b = together[i].measures[m];
      CHECK((a == b || (std::isnan(a) && std::isnan(b))));  // the same bits
    }
  }
}

TEST_CASE("each of several points that keep their signals gets its own, and the others do not notice") {
  const std::vector<Condition> conditions{at_rpm(1820), with_dead(at_rpm(1800)), at_rpm(1900)};
  const int steps = ConditionModel(launch(), conditions[0]).steps_per_cycle();
  const SteadyOptions keeping{steps, SteadyOptions{}.most_cycles, true};
  std::size_t handed_out = 0;
  const auto next = [&]() -> std::optional<LanePoint> {
    if (handed_out == conditions.size()) return std::nullopt;
    const std::size_t i = handed_out++;
    return LanePoint{i, &launch(), conditions[i]};
  };
  solve_in_lanes(steps, keeping, next, [&](std::size_t i, SteadyResult&& together) {
    const SteadyResult alone = steady(launch(), conditions[i], keeping);
    REQUIRE_FALSE(alone.record.time.empty());
    CHECK(together.record.time == alone.record.time);
    CHECK(together.record.torque == alone.record.torque);
    CHECK(together.orders == alone.orders);
  });
  CHECK(handed_out == conditions.size());
}

TEST_CASE("the signals of a motion that does not repeat keep the asked speed") {
  for (const Gear gear : {Gear::ahead, Gear::neutral}) {
    const Condition at = at_rpm(800, gear);
    const SteadyResult found = steady(launch(), at, {0, SteadyOptions{}.most_cycles, true});
    if (found.status != Status::aperiodic) continue;
    const double turned = found.record.step * static_cast<double>(found.record.time.size() - 1);
    CHECK(turned / found.record.time.back() == doctest::Approx(at.speed).epsilon(2e-4));
  }
}

TEST_CASE("a rigid plate leaves the mesh to the engine, and no plate measures") {
  Line rigid = sample::launch();
  rigid.plate.rigid = true;
  const SteadyResult found = steady(PreparedLine(rigid), at_rpm(2600));
  CHECK(std::isnan(found.spread[index_of(Measure::plate_twist_max)].mean));
  CHECK(value(found, Measure::mesh_torque_vibratory) >
        value(steady(launch(), at_rpm(2600)), Measure::mesh_torque_vibratory));
}

TEST_CASE("twelve stations run, a thirteenth is refused") {
  Line line = sample::launch();
  line.shaft->divisions = 8;  // crank, input, output, 7 shaft pieces, propeller, free gear
  const SteadyResult found = steady(PreparedLine(line), at_rpm(1820));
  REQUIRE(found.status != Status::failed);
  CHECK(value(found, Measure::mesh_torque_mean) ==
        doctest::Approx(value(steady(launch(), at_rpm(1820)), Measure::mesh_torque_mean)).epsilon(1e-3));
  line.gearbox.unloaded.push_back(line.gearbox.unloaded.front());
  CHECK_THROWS_AS(steady(PreparedLine(line), at_rpm(1820)), std::exception);
}

TEST_CASE("a gearbox that turns its output round keeps every natural frequency") {
  const auto frequencies = [](Gear gear) {
    return modes(ConditionModel(launch(), at_rpm(1500, gear)).linearised()).angular_frequency;
  };
  CHECK((frequencies(Gear::ahead) - frequencies(Gear::astern)).norm() < 1e-6 * frequencies(Gear::ahead).norm());
}
