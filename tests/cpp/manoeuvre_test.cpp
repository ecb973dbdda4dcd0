// Manoeuvres: their schedule, governor and meters one by one, then the launch through them.
#include "calmshaft/simulate/manoeuvre.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/simulate/manoeuvre_verdict.hpp"
#include "calmshaft/simulate/steady.hpp"
#include "sample_line.hpp"

using namespace calmshaft;
using sample::at_rpm;

namespace {

const PreparedLine& launch() {
  static const PreparedLine line(sample::launch());
  return line;
}

ManoeuvreOptions options() {
  ManoeuvreOptions made;
  made.stall_speed = 160.0 * rpm;
  return made;
}

Schedule engaging(Gear gear, double capacity = 500.0) {
  Schedule schedule;
  schedule.duration = 2.0;
  schedule.engages = gear;
  schedule.engage = {{0.4, 0.0}, {1.0, capacity}};
  return schedule;
}

Schedule lasting(double duration) {
  Schedule schedule;
  schedule.duration = duration;
  return schedule;
}

double ripple_of_end(const History& history, std::size_t coupling) {
  const auto& torque = history.torque[coupling];
  const auto [least, greatest] =
      std::minmax_element(torque.begin() + static_cast<std::ptrdiff_t>(torque.size() / 2), torque.end());
  return *greatest - *least;
}

std::size_t loaded_mesh_of(const History& history) {
  return static_cast<std::size_t>(std::find(history.couplings.begin(), history.couplings.end(), "loaded mesh") -
                                  history.couplings.begin());
}

}  // namespace

TEST_CASE("a track is straight between its points, level outside, and steps where two have one time") {
  const Track track{{1.0, 10.0}, {2.0, 30.0}, {2.0, 5.0}};
  CHECK(piece_of({}, 7.0, 0.0, 1.0).at(0.5) == 7.0);
  CHECK(piece_of(track, 0.0, -1.0, 1.0).at(0.0) == 10.0);
  CHECK(piece_of(track, 0.0, 1.0, 2.0).at(1.5) == doctest::Approx(20.0));
  CHECK(piece_of(track, 0.0, 1.2, 1.4).at(1.3) == doctest::Approx(16.0));
  CHECK(piece_of(track, 0.0, 2.0, 9.0).at(2.0) == 5.0);
  Schedule schedule = lasting(3.0);
  schedule.speed = track;
  schedule.load = {{0.5, 1.0}, {4.0, 0.0}};
  CHECK(changes_of(schedule) == std::vector<double>{0.5, 1.0, 2.0, 3.0});
}

TEST_CASE("a schedule that does not fit tells all its faults at once") {
  Schedule schedule = engaging(Gear::ahead);
  schedule.duration = std::numeric_limits<double>::quiet_NaN();
  schedule.speed = {{1.0, 9000.0 * rpm}, {0.5, 80.0}};
  schedule.load = {{0.0, -1.0}};
  schedule.faulty_strengths = {1, 0};
  try {
    simulate(launch(), at_rpm(800, Gear::ahead), schedule);
    FAIL("a wrong schedule was taken");
  } catch (const LineError& error) {
    std::string paths;
    for (const Fault& fault : error.faults()) paths += fault.path + " ";
    CHECK(paths ==
          "manoeuvre.duration manoeuvre.speed manoeuvre.speed manoeuvre.load manoeuvre.gear manoeuvre.cylinder ");
  }
}

TEST_CASE("the balance of means is that of the line's statics at every speed") {
  const ConditionModel point(launch(), at_rpm(1500));
  const EngineTables tables = point.tables(1440);
  const MeanBalance balance(point, tables);
  for (const double speed : {300.0 * rpm, 1234.0 * rpm, 2900.0 * rpm}) {
    const double resistance = mean_state(point.model, speed).resistance;
    const double carried = mean_of(tables.base_torque) + balance.fuelling(speed, 0.0) * mean_of(tables.fuelled_torque);
    CHECK(carried == doctest::Approx(resistance).epsilon(1e-9));
  }
  // J = 1/2 of what a unit of speed squared costs: all inertias at the crank
  const double inertia = (balance.fuelling(100, 10) - balance.fuelling(100, 0)) * mean_of(tables.fuelled_torque) / 10;
  double expected = point.mean_crank_inertia;
  for (int i = 1; i < point.model.stations; ++i)
    expected += point.model.inertia[i] * std::pow(point.model.speed_ratio[i], 2);
  CHECK(inertia == doctest::Approx(expected).epsilon(1e-9));
}

TEST_CASE("the crank's curve goes through the tables and has no seam") {
  const EngineTables tables = launch().cycles().tables({}, 1440);
  const CrankCurve curve(tables);
  for (const int node : {0, 1, 719, 1439, 1440, -1}) {
    const auto i = static_cast<std::size_t>((node + 1440) % 1440);
    const CrankDrive<double> drive = curve.at(node * tables.cycle / 1440, 0.5);
    CHECK(drive.inertia == doctest::Approx(tables.inertia[i]).epsilon(1e-9));
    CHECK(drive.gas_torque == doctest::Approx(tables.base_torque[i] + 0.5 * tables.fuelled_torque[i]).epsilon(1e-9));
  }
  CHECK(std::fabs(curve.at(-1e-9, 0.5).gas_torque - curve.at(1e-9, 0.5).gas_torque) < 1e-4);
}

TEST_CASE("a peak between uneven samples is found where the parabola has it") {
  PeakTracker tracker;
  for (const double at : {0.0, 0.3, 0.8, 1.4, 1.9}) tracker.take(at, 5.0 - 2.0 * (at - 0.9) * (at - 0.9));
  CHECK(tracker.peak().greatest == doctest::Approx(5.0));
  CHECK(tracker.peak().greatest_at == doctest::Approx(0.9));
  CHECK(tracker.peak().least_at == 1.9);
  PeakTracker level;  // open teeth: no torque at the samples, none between them
  for (const double at : {0.0, 0.1, 0.2}) level.take(at, 0.0);
  CHECK(level.peak().least == 0.0);
}

TEST_CASE("a swing lasts where it turns at least twice by more than the threshold") {
  std::vector<double> rising, swinging, dying;
  for (int i = 0; i < 200; ++i) {
    rising.push_back(0.1 * i);
    swinging.push_back(100.0 + 3.0 * std::sin(0.2 * i));
    dying.push_back(100.0 + 3.0 * std::sin(0.2 * i) * std::exp(-0.2 * i));
  }
  CHECK(lasting_swing(rising, 2.0) == 0.0);
  CHECK(lasting_swing(swinging, 2.0) == doctest::Approx(6.0).epsilon(0.02));
  CHECK(lasting_swing(swinging, 7.0) == 0.0);
  CHECK(lasting_swing(dying, 2.0) == 0.0);
  CHECK(lasting_swing({}, 1.0) == 0.0);
}

TEST_CASE("a speed that is held has the ripple of the steady condition") {
  // two engines and two ways to the fuelling; 0.5 % where no tooth rattles (at 1300 rpm cycles differ by as much)
  ManoeuvreOptions long_settled = options();
  long_settled.settle_cycles = 30;
  for (const double speed : {800.0, 900.0, 1000.0}) {
    CAPTURE(speed);
    const SteadyResult found = steady(launch(), at_rpm(speed));
    REQUIRE(found.status == Status::periodic);
    const History history = simulate(launch(), at_rpm(speed), lasting(1.0), long_settled);
    REQUIRE(history.status == ManoeuvreEnd::finished);
    CHECK(ripple_of_end(history, loaded_mesh_of(history)) ==
          doctest::Approx(found.measures[index_of(Measure::mesh_torque_ripple)]).epsilon(5e-3));
    CHECK(history.fuelling.back() == doctest::Approx(found.fuelling).epsilon(2e-3));
  }
}

TEST_CASE("engaging either gear takes the shaft along, and the books balance") {
  for (const Gear gear : {Gear::ahead, Gear::astern}) {
    const History history = simulate(launch(), at_rpm(800, Gear::neutral), engaging(gear), options());
    CHECK(history.status == ManoeuvreEnd::finished);
    CHECK(std::fabs(history.audit.relative_defect()) < 1e-3);  // the audit's own limit
    const double sign = gear == Gear::ahead ? 0.5 : -0.5;
    CHECK(history.speed[2].front() == 0.0);
    CHECK(history.speed[2].back() == doctest::Approx(sign * history.speed[1].back()).epsilon(0.02));  // vibration
    REQUIRE(history.clutches.size() == 1);
    CHECK_FALSE(history.clutches[0].slips);
    CHECK(history.clutches[0].slip_ended > 0.4);
    CHECK(history.clutches[0].slip_ended < 1.0);
    CHECK(history.clutches[0].heat > 0.0);
  }
}

TEST_CASE("a clutch too weak for the load slips on and carries no more than it can") {
  const History history = simulate(launch(), at_rpm(1500, Gear::neutral), engaging(Gear::ahead, 20.0), options());
  REQUIRE(history.clutches.size() == 1);
  CHECK(history.clutches[0].slips);
  CHECK(history.torque_peak[loaded_mesh_of(history)].greatest <= 20.0 * (1 + 1e-12));
}

TEST_CASE("a reversal opens one clutch, closes the other and turns the propeller round") {
  Schedule schedule = engaging(Gear::astern);
  schedule.duration = 3.0;
  schedule.release = {{0.2, 500.0}, {0.3, 0.0}};
  const History history = simulate(launch(), at_rpm(900), schedule, options());
  CHECK(history.status == ManoeuvreEnd::finished);
  CHECK(std::fabs(history.audit.relative_defect()) < 1e-3);
  CHECK(history.couplings.back() == "astern mesh");
  CHECK(history.speed[3].front() > 40.0);
  CHECK(history.speed[3].back() < -40.0);
  CHECK(history.torque[loaded_mesh_of(history)].back() == 0.0);
  // the ahead pair was held without slip until its clutch let go: no heat but that of the last moment
  REQUIRE(history.clutches.size() == 2);
  CHECK(history.clutches[0].heat < 0.01 * history.clutches[1].heat);
}

TEST_CASE("every end has its status and its sentence") {
  ManoeuvreOptions tight = options();
  tight.most_evaluations = 300'000;
  const History spent = simulate(launch(), at_rpm(1500), lasting(20.0), tight);
  CHECK(spent.status == ManoeuvreEnd::unfinished);
  CHECK(spent.reason.find("budget") != std::string::npos);
  CHECK(spent.stats.evaluations < 300'010);
  Condition heavy = at_rpm(800, Gear::neutral);
  heavy.load = LoadCase::torque;
  heavy.load_torque = 2000.0;
  const History stalled = simulate(launch(), heavy, engaging(Gear::ahead), options());
  CHECK(stalled.status == ManoeuvreEnd::stalled);
  CHECK(stalled.reason.find("160 rpm") != std::string::npos);
  CHECK(stalled.time.back() < 2.0);
  std::atomic<bool> stop{true};
  ManoeuvreOptions stopping = options();
  stopping.stop = &stop;
  CHECK(simulate(launch(), at_rpm(1500), lasting(20.0), stopping).status == ManoeuvreEnd::interrupted);
  Schedule off = lasting(20.0);
  off.fuel = {{0.2, 1.0}, {0.2, 0.0}};
  const History rests = simulate(launch(), at_rpm(800, Gear::neutral), off, options());
  CHECK(rests.status == ManoeuvreEnd::at_rest);
  CHECK(rests.stats.at < 10.0);
}

TEST_CASE("samples are even and bounded, and peaks are no smaller than they show") {
  ManoeuvreOptions few = options();
  few.most_samples = 500;
  const History history = simulate(launch(), at_rpm(700), lasting(1.0), few);
  REQUIRE(history.time.size() == 501);
  for (std::size_t i = 0; i < history.time.size(); ++i)
    CHECK(history.time[i] == doctest::Approx(0.002 * static_cast<double>(i)));
  for (std::size_t i = 0; i < history.torque.size(); ++i) {
    const auto [least, greatest] = std::minmax_element(history.torque[i].begin(), history.torque[i].end());
    CHECK(history.torque_peak[i].least <= *least);
    CHECK(history.torque_peak[i].greatest >= *greatest);
  }
  for (const MeshShares& shares : history.shares)
    CHECK(shares.drive + shares.separated + shares.coast == doctest::Approx(1.0));
}
