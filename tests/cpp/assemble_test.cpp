// From description to mass-elastic system. Sources beside each check; the launch is invented data.
#include "calmshaft/model/assemble.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <string>

#include "calmshaft/engine/friction.hpp"
#include "calmshaft/line/plate_torque.hpp"
#include "calmshaft/model/dynamics.hpp"
#include "calmshaft/simulate/condition_model.hpp"
#include "calmshaft/solve/modes.hpp"
#include "linear_fixtures.hpp"
#include "sample_line.hpp"

using namespace calmshaft;
using fixtures::relative_error;
using sample::at_rpm;
using sample::degree;

namespace {

std::vector<std::string> names(const Line& line, Gear gear) {
  std::vector<std::string> found;
  for (const Station& station : assemble(line, at_rpm(1500, gear)).stations) found.push_back(station.name);
  return found;
}

Model compiled(const Line& line, const Condition& at) { return compile(assemble(line, at), {}); }

// 200 kW at 300 rpm of the propeller behind a 2:1 gearbox without drags.
Line two_hundred_kilowatts() {
  Line line = sample::launch();
  line.gearbox.input_drag = 0.0;
  line.gearbox.unloaded.clear();
  line.propeller->absorbs_torque = 200e3 / (600.0 * rpm);
  line.propeller->absorbs_speed = 600.0 * rpm;
  line.propeller->extra_damping = 0.0;
  return line;
}

double propeller_torque(const Line& line, Condition at, double propeller_rpm) {
  const Model model = compiled(line, at);
  return square_torque(model.square_load[0], propeller_rpm * rpm, propeller_rpm * rpm);
}

}  // namespace

TEST_CASE("each gear has its own stations") {
  const Line line = sample::launch();
  using Names = std::vector<std::string>;
  const Names engaged{"crank and flywheel", "gearbox input", "gearbox output", "propeller", "free pair"};
  CHECK(names(line, Gear::ahead) == engaged);
  CHECK(names(line, Gear::astern) == engaged);
  CHECK(names(line, Gear::neutral) == Names{"crank and flywheel", "gearbox input", "free pair"});
}

TEST_CASE("a pair that does not turn in a gear is left out with its drag") {
  Line line = sample::launch();
  line.gearbox.unloaded[0].turns_in_astern = false;
  CHECK(names(line, Gear::astern).size() == 4);
  CHECK(names(line, Gear::ahead).size() == 5);
  CHECK(compiled(line, at_rpm(1500, Gear::astern)).drags == 1);
}

TEST_CASE("astern turns the output backwards at the same ratio") {
  for (const auto& [gear, sign] : {std::pair(Gear::ahead, 1.0), std::pair(Gear::astern, -1.0)}) {
    const Model model = compiled(sample::launch(), at_rpm(1500, gear));
    CHECK(model.speed_ratio[2] == sign * 0.5);
    CHECK(model.speed_ratio[3] == sign * 0.5);
    CHECK(model.mesh[0].ratio == sign * 2.0);
  }
}

TEST_CASE("a rigid plate joins the gearbox input to the crank") {
  Line line = sample::launch();
  line.plate.rigid = true;
  const MassElastic system = assemble(line, at_rpm(1500));
  CHECK(system.stations.size() == 4);
  CHECK(system.stations[0].inertia == doctest::Approx(0.45 + 0.004 + 0.020));
  CHECK(compile(system, {}).dampers == 0);
}

TEST_CASE("the stages of drive and coast sides become the torque that the plate's own description gives") {
  Line line = sample::launch();
  line.plate.coast.stages = {{5.0 / degree, 3.0 * degree}, {30.0 / degree, 9.0 * degree}};
  const Model model = compiled(line, at_rpm(1500));
  for (const double twist : {0.2, 0.5, 1.7, 3.9, 4.1, 12.0, 20.0}) {
    CAPTURE(twist);
    const double angle = twist * degree;
    const double drive = elastic_torque(line.plate.drive, line.plate.free_play, angle);
    const double coast = elastic_torque(line.plate.coast, line.plate.free_play, angle);
    CHECK(elastic_torque(model.damper[0], angle) == doctest::Approx(drive).epsilon(1e-12));
    CHECK(elastic_torque(model.damper[0], -angle) == doctest::Approx(-coast).epsilon(1e-12));
  }
}

TEST_CASE("a shaft in pieces keeps its inertia and its stiffness from end to end") {
  Line line = sample::launch();
  const auto totals = [&](int divisions) {
    line.shaft->divisions = divisions;
    double inertia = 0.0, flexibility = 0.0;
    const MassElastic system = assemble(line, at_rpm(1500));
    for (const Station& station : system.stations) inertia += station.inertia;
    const Model model = compile(system, {});
    for (int i = 0; i < model.springs; ++i) flexibility += 1.0 / model.spring[i].stiffness;
    return std::pair(inertia, 1.0 / flexibility);
  };
  CHECK(relative_error(totals(5).first, totals(1).first) < 1e-12);
  CHECK(relative_error(totals(5).second, line.shaft->stiffness) < 1e-12);
}

TEST_CASE("gears refer inertia and stiffness by the square of the ratio") {
  // Rule: Thomson, Theory of Vibration with Applications, ch. 12. Round numbers in closed form: J1 = 2, k1 = 40000 in
  // series with k2 = 90000 / 2^2, J2 = 8 / 2^2: 120 rad/s. The gears of the example have no mass, ours 1e-6 kg m^2:
  // that moves the frequency by less than 1e-6.
  Line line = sample::launch();
  line.plate.rigid = true;
  line.plate.hub_inertia = 0.0;
  line.gearbox.input_inertia = 1e-6;
  line.gearbox.unloaded.clear();
  line.gearbox.ahead = LoadedPair{2.0, 1e-6, {0.25 * degree, 40000.0}};
  line.shaft = Shaft{90000.0, 1e-9, 0.0, 1};
  line.propeller->inertia = 8.0;
  line.propeller->water_inertia = 0.0;
  line.flywheel_inertia = 1.0;
  const double engine = ConditionModel(PreparedLine(line), at_rpm(1500)).mean_crank_inertia - 1.0;
  line.flywheel_inertia = 2.0 - engine;
  const PreparedLine prepared(line);
  const Eigen::VectorXd found = modes(ConditionModel(prepared, at_rpm(1500)).linearised()).angular_frequency;
  CHECK(relative_error(found[1], 120.0) < 2e-6);
  CHECK(found[2] > 1e4);  // the massless gear has no mode of its own
}

TEST_CASE("the propeller law passes through its rating, and half speed takes an eighth of the power") {
  // Closed form, Q = Q0 (n / n0)^2: 6366.1977 N m at 300 rpm, 1591.5494 N m and 25 kW at half of it; 5e-8: eight
  // digits.
  const Line line = two_hundred_kilowatts();
  CHECK(relative_error(propeller_torque(line, at_rpm(600), 300), 6366.1977) < 5e-8);
  CHECK(relative_error(propeller_torque(line, at_rpm(600), 150), 1591.5494) < 5e-8);
  CHECK(relative_error(propeller_torque(line, at_rpm(600), 150) * 150 * rpm, 25e3) < 1e-9);
}

TEST_CASE("the square law damps by twice torque over speed, the extra damping comes on top") {
  // Closed form dQ/dw = 2 Q / w = 405.28473 N m s/rad; 5e-8: eight digits. A central difference of a square law is
  // exact.
  Line line = two_hundred_kilowatts();
  const auto slope = [&] {
    const Model model = compiled(line, at_rpm(600));
    const double mean = 300 * rpm, step = 0.01;
    return (square_torque(model.square_load[0], mean + step, mean) -
            square_torque(model.square_load[0], mean - step, mean)) /
           (2 * step);
  };
  CHECK(relative_error(slope(), 405.28473) < 5e-8);
  line.propeller->extra_damping = 0.5;
  CHECK(relative_error(slope(), 405.28473 * 1.25) < 5e-8);
}

TEST_CASE("torque at the input, drags included, is the absorbed torque under way") {
  const Line line = sample::launch();
  const double through_mesh = propeller_torque(line, at_rpm(2600), 1300) / 2.0;
  CHECK(relative_error(through_mesh + 3.75 + 1.3, 165.0) < 1e-12);
}

TEST_CASE("tied up, unloaded and stated torques replace the propeller's own") {
  const Line line = sample::launch();
  Condition at = at_rpm(2000);
  const double under_way = propeller_torque(line, at, 1000);
  at.load = LoadCase::tied_up;
  CHECK(propeller_torque(line, at, 1000) == doctest::Approx(1.25 * under_way).epsilon(1e-12));
  at.load = LoadCase::none;
  CHECK(propeller_torque(line, at, 1000) == 0.0);
  at.load = LoadCase::torque;
  at.load_torque = 80.0;
  CHECK(propeller_torque(line, at, 1000) == doctest::Approx(160.0).epsilon(1e-12));
  at.gear = Gear::astern;
  CHECK(propeller_torque(line, at, -1000) == doctest::Approx(-160.0).epsilon(1e-12));
}
