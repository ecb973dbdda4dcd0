// What check() finds. The rules are our own contract or plain physics; the launch is invented data.
#include "calmshaft/line/check.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <string>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/line/plate_torque.hpp"

using namespace calmshaft;

namespace {

constexpr double degree = std::numbers::pi / 180.0;
constexpr double nan_value = std::numeric_limits<double>::quiet_NaN();

Engine launch_engine() {
  Engine engine;
  engine.firing_angles = {0, 540 * degree, 180 * degree, 360 * degree};
  engine.bore = 0.092;
  engine.stroke = 0.098;
  engine.rod_length = 0.160;
  engine.compression_ratio = 18.5;
  engine.piston_mass = 0.95;
  engine.rod_mass = 1.1;
  engine.rod_centre_from_big_end = 0.052;
  engine.rod_inertia = 0.0056;
  engine.crank_inertia = 0.055;
  engine.rated_torque = 165;
  engine.rated_speed = 2600 * rpm;
  engine.combustion = {-2 * degree, 50 * degree, 6.9, 0.7, 1.35, 1e5, 1.05e5, -140 * degree, 130 * degree};
  engine.friction = {1.05e5, 458, 400};
  return engine;
}

Plate launch_plate() {
  Plate plate;
  plate.hub_inertia = 0.004;
  plate.rated_torque = 180;
  plate.free_play = 1.0 * degree;
  plate.hysteresis_full_width = 6;
  plate.presliding_angle = 0.1 * degree;
  plate.viscous_damping = 0.5;
  plate.stop_stiffness = 1600 / degree;
  plate.drive.stages = {{9 / degree, 4 * degree}, {16 / degree, 16 * degree}};
  plate.drive.stop_angle = 16 * degree;
  plate.coast = plate.drive;
  return plate;
}

Line launch() {
  Line line;
  line.engine = launch_engine();
  line.flywheel_inertia = 0.45;
  line.plate = launch_plate();
  const ToothContact teeth{0.25 * degree, 6e5};
  line.gearbox = {250, 0.020, 3.0, LoadedPair{2.0, 0.030, teeth}, LoadedPair{2.0, 0.030, teeth}, {}};
  line.gearbox.unloaded.push_back({"astern pair", true, true, true, 0.0042, 1.3, teeth});
  line.shaft = Shaft{5300, 0.0025, 0.01, 1};
  line.propeller = Propeller{0.093, 0.02, 165, 2600 * rpm};
  return line;
}

// The one fault or warning with this key; the test fails where there is none or more.
Fault only(const std::vector<Fault>& faults, const std::string& path) {
  const auto matches = [&](const Fault& fault) { return fault.path == path; };
  REQUIRE_MESSAGE(std::count_if(faults.begin(), faults.end(), matches) == 1, path);
  return *std::find_if(faults.begin(), faults.end(), matches);
}

template <class Change>
std::vector<Fault> check_changed(const Change& change) {
  Line line = launch();
  change(line);
  return check(line);
}

template <class Change>
std::vector<Fault> ask_changed(const Change& change) {
  Condition condition;
  condition.speed = 800 * rpm;
  change(condition);
  return check(launch(), condition);
}

}  // namespace

TEST_CASE("a plausible line has neither faults nor warnings") { CHECK(check(launch()).empty()); }

TEST_CASE("the springs of a two-stage plate carry the sum of their stages") {
  // Own arithmetic: 9 x 3.5 + 16 x 12 N m, half the free play taken off the first stage.
  const Plate plate = launch_plate();
  CHECK(elastic_torque(plate.drive, plate.free_play, 16 * degree) ==
        doctest::Approx(9 * 3.5 + 16 * 12).epsilon(1e-12));
  CHECK(elastic_torque(plate.drive, plate.free_play, 0.4 * degree) == 0.0);
  CHECK(elastic_torque(plate.drive, plate.free_play, 20 * degree) ==
        doctest::Approx(9 * 3.5 + 16 * 16).epsilon(1e-12));
}

TEST_CASE("every value of a line refuses what is not a number, under its own key") {
  struct Case {
    std::string path;
    void (*spoil)(Line&);
  };
  const Case cases[] = {
      {"engine.bore", [](Line& l) { l.engine.bore = nan_value; }},
      {"engine.stroke", [](Line& l) { l.engine.stroke = nan_value; }},
      {"engine.rod_length", [](Line& l) { l.engine.rod_length = nan_value; }},
      {"engine.compression_ratio", [](Line& l) { l.engine.compression_ratio = nan_value; }},
      {"engine.piston_mass", [](Line& l) { l.engine.piston_mass = nan_value; }},
      {"engine.rod_mass", [](Line& l) { l.engine.rod_mass = nan_value; }},
      {"engine.rod_centre_from_big_end", [](Line& l) { l.engine.rod_centre_from_big_end = nan_value; }},
      {"engine.rod_inertia", [](Line& l) { l.engine.rod_inertia = nan_value; }},
      {"engine.crank_inertia", [](Line& l) { l.engine.crank_inertia = nan_value; }},
      {"engine.rated_torque", [](Line& l) { l.engine.rated_torque = nan_value; }},
      {"engine.rated_rpm", [](Line& l) { l.engine.rated_speed = nan_value; }},
      {"engine.firing_order", [](Line& l) { l.engine.firing_angles[2] = nan_value; }},
      {"engine.combustion.burn_start", [](Line& l) { l.engine.combustion.burn_start = nan_value; }},
      {"engine.combustion.burn_duration", [](Line& l) { l.engine.combustion.burn_duration = nan_value; }},
      {"engine.combustion.burn_coefficient",
       [](Line& l) { l.engine.combustion.burn_coefficient = nan_value; }},
      {"engine.combustion.burn_exponent", [](Line& l) { l.engine.combustion.burn_exponent = nan_value; }},
      {"engine.combustion.polytropic_exponent",
       [](Line& l) { l.engine.combustion.polytropic_exponent = nan_value; }},
      {"engine.combustion.inlet_pressure", [](Line& l) { l.engine.combustion.inlet_pressure = nan_value; }},
      {"engine.combustion.exhaust_pressure",
       [](Line& l) { l.engine.combustion.exhaust_pressure = nan_value; }},
      {"engine.combustion.inlet_closes", [](Line& l) { l.engine.combustion.inlet_closes = nan_value; }},
      {"engine.combustion.exhaust_opens", [](Line& l) { l.engine.combustion.exhaust_opens = nan_value; }},
      {"engine.friction.constant", [](Line& l) { l.engine.friction.constant = nan_value; }},
      {"engine.friction.per_speed", [](Line& l) { l.engine.friction.per_speed = nan_value; }},
      {"engine.friction.per_piston_speed_squared",
       [](Line& l) { l.engine.friction.per_piston_speed_squared = nan_value; }},
      {"flywheel.inertia", [](Line& l) { l.flywheel_inertia = nan_value; }},
      {"plate.hub_inertia", [](Line& l) { l.plate.hub_inertia = nan_value; }},
      {"plate.rated_torque", [](Line& l) { l.plate.rated_torque = nan_value; }},
      {"plate.free_play", [](Line& l) { l.plate.free_play = nan_value; }},
      {"plate.hysteresis_full_width", [](Line& l) { l.plate.hysteresis_full_width = nan_value; }},
      {"plate.presliding_angle", [](Line& l) { l.plate.presliding_angle = nan_value; }},
      {"plate.viscous_damping", [](Line& l) { l.plate.viscous_damping = nan_value; }},
      {"plate.stop_stiffness", [](Line& l) { l.plate.stop_stiffness = nan_value; }},
      {"plate.stop_restitution", [](Line& l) { l.plate.stop_restitution = nan_value; }},
      {"plate.stop_angle", [](Line& l) { l.plate.coast.stop_angle = l.plate.drive.stop_angle = nan_value; }},
      {"plate.stages[1].stiffness", [](Line& l) { l.plate.drive.stages[1].stiffness = nan_value; }},
      {"plate.coast.stages[0].until", [](Line& l) { l.plate.coast.stages[0].until = nan_value; }},
      {"gearbox.rated_torque", [](Line& l) { l.gearbox.rated_torque = nan_value; }},
      {"gearbox.input_inertia", [](Line& l) { l.gearbox.input_inertia = nan_value; }},
      {"gearbox.input_drag", [](Line& l) { l.gearbox.input_drag = nan_value; }},
      {"gearbox.ahead.ratio", [](Line& l) { l.gearbox.ahead->ratio = nan_value; }},
      {"gearbox.astern.output_inertia", [](Line& l) { l.gearbox.astern->output_inertia = nan_value; }},
      {"gearbox.ahead.backlash", [](Line& l) { l.gearbox.ahead->contact.backlash = nan_value; }},
      {"gearbox.ahead.mesh_stiffness", [](Line& l) { l.gearbox.ahead->contact.stiffness = nan_value; }},
      {"gearbox.ahead.restitution", [](Line& l) { l.gearbox.ahead->contact.restitution = nan_value; }},
      {"gearbox.ahead.restitution_speed",
       [](Line& l) { l.gearbox.ahead->contact.restitution_speed = nan_value; }},
      {"gearbox.unloaded[0].inertia", [](Line& l) { l.gearbox.unloaded[0].inertia = nan_value; }},
      {"gearbox.unloaded[0].drag", [](Line& l) { l.gearbox.unloaded[0].drag = nan_value; }},
      {"shaft.stiffness", [](Line& l) { l.shaft->stiffness = nan_value; }},
      {"shaft.inertia", [](Line& l) { l.shaft->inertia = nan_value; }},
      {"shaft.damping_ratio", [](Line& l) { l.shaft->damping_ratio = nan_value; }},
      {"propeller.inertia", [](Line& l) { l.propeller->inertia = nan_value; }},
      {"propeller.water_inertia", [](Line& l) { l.propeller->water_inertia = nan_value; }},
      {"propeller.absorbs_torque", [](Line& l) { l.propeller->absorbs_torque = nan_value; }},
      {"propeller.absorbs_rpm", [](Line& l) { l.propeller->absorbs_speed = nan_value; }},
      {"propeller.tied_up_factor", [](Line& l) { l.propeller->tied_up_factor = nan_value; }},
      {"propeller.extra_damping", [](Line& l) { l.propeller->extra_damping = nan_value; }},
  };
  for (const Case& spoilt : cases) {
    CAPTURE(spoilt.path);
    const auto faults = check_changed(spoilt.spoil);
    const bool refused = std::any_of(faults.begin(), faults.end(), [&](const Fault& fault) {
      return fault.path == spoilt.path && !fault.warning && !fault.rule.empty() && !fault.advice.empty();
    });
    CHECK(refused);
  }
}

TEST_CASE("a negative inertia is told with its unit and what to do") {
  const Fault fault = only(check_changed([](Line& l) { l.flywheel_inertia = -0.45; }), "flywheel.inertia");
  CHECK(fault.value == "-0.45 kg*m^2");
  CHECK(fault.rule == "must be more than zero");
  CHECK_FALSE(fault.advice.empty());
  CHECK_FALSE(fault.warning);
}

TEST_CASE("all faults of a line come at once, in the order of its elements") {
  const auto faults = check_changed([](Line& l) {
    l.propeller->inertia = 0;
    l.gearbox.ahead->ratio = 0;
    l.engine.bore = -0.092;
  });
  REQUIRE(faults.size() == 3);
  CHECK(faults[0].path == "engine.bore");
  CHECK(faults[0].value == "-92 mm");
  CHECK(faults[1].path == "gearbox.ahead.ratio");
  CHECK(faults[2].path == "propeller.inertia");
}

TEST_CASE("a rod no longer than the crank radius cannot be and a short one is doubted") {
  CHECK_FALSE(only(check_changed([](Line& l) { l.engine.rod_length = 0.049; }), "engine.rod_length").warning);
  CHECK(only(check_changed([](Line& l) { l.engine.rod_length = 0.110; }), "engine.rod_length").warning);
}

TEST_CASE("compression ratio one has no clearance volume and thirty is doubted") {
  CHECK_FALSE(only(check_changed([](Line& l) { l.engine.compression_ratio = 1; }), "engine.compression_ratio")
                  .warning);
  CHECK(only(check_changed([](Line& l) { l.engine.compression_ratio = 30; }), "engine.compression_ratio")
            .warning);
}

TEST_CASE("strokes other than two or four are refused") {
  CHECK(only(check_changed([](Line& l) { l.engine.strokes = 3; }), "engine.strokes").value == "3");
}

TEST_CASE("firing angles must be there, lie in one cycle, and are doubted where two coincide") {
  CHECK_FALSE(
      only(check_changed([](Line& l) { l.engine.firing_angles.clear(); }), "engine.firing_order").warning);
  const auto outside = check_changed([](Line& l) { l.engine.firing_angles[3] = 720 * degree; });
  CHECK(only(outside, "engine.firing_order").value == "720 deg for cylinder 4");
  CHECK(only(check_changed([](Line& l) { l.engine.firing_angles[3] = 0; }), "engine.firing_order").warning);
}

TEST_CASE("a bore typed in inches and read as millimetres is doubted once, not with all that leans on it") {
  const auto faults = check_changed([](Line& l) { l.engine.bore = 3.62e-3; });
  CHECK(only(faults, "engine.bore").warning);
  CHECK(faults.size() == 1);
}

TEST_CASE("the stages of a plate ascend and lie outside the free play") {
  const auto inside = check_changed(
      [](Line& l) { l.plate.coast.stages[0].until = l.plate.drive.stages[0].until = 0.4 * degree; });
  CHECK(only(inside, "plate.stages[0].until").value == "0.4 deg");
  const auto falling = check_changed(
      [](Line& l) { l.plate.coast.stages[1].until = l.plate.drive.stages[1].until = 3 * degree; });
  CHECK(only(falling, "plate.stages[1].until").rule.find("4 deg") != std::string::npos);
}

TEST_CASE("the last stage may run on without end") {
  CHECK(check_changed([](Line& l) {
          l.plate.drive.stages[1].until = std::numeric_limits<double>::infinity();
        }).empty());
}

TEST_CASE("a plate without stages is pointed to the solid drive, and a solid drive needs none") {
  const auto none = [](Line& l) {
    l.plate.drive.stages.clear();
    l.plate.coast.stages.clear();
  };
  CHECK(only(check_changed(none), "plate.stages").advice.find("rigid") != std::string::npos);
  CHECK(check_changed([&](Line& l) {
          none(l);
          l.plate.rigid = true;
        }).empty());
}

TEST_CASE("a stop before the last corner of the springs is refused") {
  const auto faults = check_changed([](Line& l) { l.plate.coast.stop_angle = 3 * degree; });
  CHECK_FALSE(only(faults, "plate.coast.stop_angle").warning);
}

TEST_CASE("hysteresis needs a presliding angle") {
  CHECK_FALSE(
      only(check_changed([](Line& l) { l.plate.presliding_angle = 0; }), "plate.presliding_angle").warning);
  CHECK(check_changed([](Line& l) { l.plate.presliding_angle = l.plate.hysteresis_full_width = 0; }).empty());
}

TEST_CASE("restitution above one would make energy and zero would never let go") {
  for (const double restitution : {0.0, 1.01})
    CHECK_FALSE(only(check_changed([&](Line& l) { l.gearbox.ahead->contact.restitution = restitution; }),
                     "gearbox.ahead.restitution")
                    .warning);
  CHECK(check_changed([](Line& l) { l.gearbox.ahead->contact.restitution = 1.0; }).empty());
}

TEST_CASE("a stop torque below the engine's rated torque is a warning with both torques") {
  const Fault warning = only(check_changed([](Line& l) {
                               l.plate.rated_torque.reset();
                               l.plate.drive.stop_angle = 10 * degree;  // 9 x 3.5 + 16 x 6 = 127.5 N m
                             }),
                             "plate.stop_angle");
  CHECK(warning.warning);
  CHECK(warning.value == "10 deg, where the springs carry 127.5 N*m");
  CHECK(warning.rule.find("165 N*m") != std::string::npos);
}

TEST_CASE("a stated torque above the stop torque or below the engine's torque is a warning") {
  CHECK(only(check_changed([](Line& l) { l.plate.rated_torque = 240; }), "plate.stop_angle").warning);
  CHECK(only(check_changed([](Line& l) { l.plate.rated_torque = 150; }), "plate.rated_torque").warning);
}

TEST_CASE("a plate stiffness typed per radian instead of per degree is doubted") {
  const auto soft = check_changed([](Line& l) {
    for (PlateStage& stage : l.plate.drive.stages) stage.stiffness *= degree;
  });
  CHECK(only(soft, "plate.stages[1].stiffness").warning);
}

TEST_CASE("a propeller that takes no more than the drags of the gearbox is refused") {
  const auto faults = check_changed([](Line& l) { l.propeller->absorbs_torque = 4; });  // drags 3.0 + 1.3 N m
  CHECK(std::any_of(faults.begin(), faults.end(), [](const Fault& f) {
    return f.path == "propeller.absorbs_torque" && !f.warning && f.rule.find("4.3 N*m") != std::string::npos;
  }));
}

TEST_CASE("a line without shaft or propeller is only warned that neutral alone can be answered") {
  const auto faults = check_changed([](Line& l) {
    l.shaft.reset();
    l.propeller.reset();
    l.gearbox.ahead.reset();
  });
  CHECK(only(faults, "shaft").warning);
  CHECK(only(faults, "propeller").warning);
  CHECK(faults.size() == 2);  // astern is left
}

TEST_CASE("a sensible condition has no faults") {
  CHECK(ask_changed([](Condition&) {}).empty());
  CHECK(ask_changed([](Condition& c) {
          c.gear = Gear::neutral;
          c.strengths = {1, 1, 0, 0.5};
        }).empty());
}

TEST_CASE("a speed outside the data is told with the range") {
  for (const double speed : {0.0, -800.0, 40.0, 3400.0, nan_value})
    CHECK(only(ask_changed([&](Condition& c) { c.speed = speed * rpm; }), "rpm").advice.find("2600 rpm") !=
          std::string::npos);
  CHECK(only(ask_changed([](Condition& c) { c.speed = 3400 * rpm; }), "rpm").rule ==
        "must lie between 50 rpm and 3380 rpm");
}

TEST_CASE("strengths fit the cylinders, lie from 0 to 1 and leave one cylinder alive") {
  CHECK(only(ask_changed([](Condition& c) { c.strengths = {1, 1, 0}; }), "misfiring").value == "3 strengths");
  CHECK(only(ask_changed([](Condition& c) { c.strengths = {1, 1, 1.5, 1}; }), "misfiring").value ==
        "1.5 for cylinder 3");
  CHECK(only(ask_changed([](Condition& c) { c.strengths = {0, 0, 0, 0}; }), "misfiring").value ==
        "every cylinder dead");
}

TEST_CASE("asking in gear names each part that is missing") {
  Line line = launch();
  line.gearbox.astern.reset();
  line.propeller.reset();
  Condition condition;
  condition.speed = 800 * rpm;
  condition.gear = Gear::astern;
  const auto faults = check(line, condition);
  REQUIRE(faults.size() == 2);
  CHECK(faults[0].path == "gear");
  CHECK(faults[0].rule.find("gearbox.astern") != std::string::npos);
  CHECK(faults[1].rule.find("propeller") != std::string::npos);
  CHECK(faults[1].advice.find("only neutral can be answered") != std::string::npos);
}

TEST_CASE("a load torque is a number that is not negative") {
  const auto ask = [](double torque) {
    return ask_changed([&](Condition& c) {
      c.load = LoadCase::torque;
      c.load_torque = torque;
    });
  };
  CHECK(ask(80).empty());
  CHECK(only(ask(-80), "load").value == "-80 N*m");
}
