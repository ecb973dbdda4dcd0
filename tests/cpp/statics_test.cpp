// The line at its mean, against sums by hand.
#include "calmshaft/model/statics.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "calmshaft/model/assemble.hpp"
#include "calmshaft/model/dynamics.hpp"
#include "linear_fixtures.hpp"
#include "sample_line.hpp"

using namespace calmshaft;
using fixtures::relative_error;
using sample::at_rpm;
using sample::degree;

namespace {

const FrictionTorque engine_drag{10.0, 0.02, 1e-4};  // [N m], [N m s/rad], [N m s^2/rad^2]

Model launch(Gear gear, double load_torque) {
  Condition at = at_rpm(2000, gear);
  at.load = LoadCase::torque;
  at.load_torque = load_torque;
  return compile(assemble(sample::launch(), at), engine_drag);
}

// The one damper of a launch whose loads bring its mean torque to a value.
struct Mean {
  Model model;
  MeanState state;
  std::size_t plate;
};

Mean with_plate_torque(double torque) {
  const Model model = launch(Gear::ahead, torque - 3.75 - 1.3);
  return {model, mean_state(model, 2000 * rpm), static_cast<std::size_t>(model.first_damper())};
}

}  // namespace

TEST_CASE("the mean torque of every coupling is the sum of what lies behind it, ahead and astern") {
  for (const Gear gear : {Gear::ahead, Gear::astern}) {
    const Model model = launch(gear, 80.0);
    const MeanState mean = mean_state(model, 2000 * rpm);
    const double turns = gear == Gear::ahead ? 1.0 : -1.0;
    CHECK(mean.coupling_torque[0] == doctest::Approx(turns * 160.0));      // shaft
    CHECK(mean.coupling_torque[1] == doctest::Approx(80.0 + 3.75 + 1.3));  // plate
    CHECK(mean.coupling_torque[2] == doctest::Approx(80.0));  // loaded mesh, positive when the engine drives
    CHECK(mean.coupling_torque[3] == doctest::Approx(1.3));   // unloaded pair
  }
}

TEST_CASE("the engine must give all loads and its own friction") {
  const double speed = 2000 * rpm;
  const Model model = launch(Gear::ahead, 80.0);
  const MeanState mean = mean_state(model, speed);
  CHECK(relative_error(mean.resistance, 85.05 + engine_drag.torque(speed)) < 1e-12);
  CHECK(relative_error(mean.resistance_slope, 2.0 * 80.0 / speed + engine_drag.slope(speed)) < 1e-12);
}

TEST_CASE("every coupling's mean twist carries its mean torque") {
  // without friction and damping: what dynamics.hpp makes of the twist must be the torque
  const Model model = launch(Gear::ahead, 80.0);
  const MeanState mean = mean_state(model, 2000 * rpm);
  CHECK(relative_error(model.spring[0].stiffness * mean.coupling_twist[0], mean.coupling_torque[0]) < 1e-12);
  CHECK(relative_error(elastic_torque(model.damper[0], mean.coupling_twist[1]), mean.coupling_torque[1]) < 1e-12);
  for (int i = 0; i < model.meshes; ++i) {
    const auto& mesh = model.mesh[i];
    const auto coupling = static_cast<std::size_t>(model.first_mesh() + i);
    const double torque =
        gap_torque(mesh.contact, mesh.half_backlash, mesh.half_backlash, mean.coupling_twist[coupling], 0.0);
    CHECK(relative_error(torque, mean.coupling_torque[coupling]) < 1e-9);  // twist less backlash loses digits
  }
}

TEST_CASE("the plate's stiffness is that of the stage which carries the mean torque") {
  // first stage from 0.5 to 4 degrees: 9 N m/deg, so up to 31.5 N m; then 16 N m/deg
  const Mean soft = with_plate_torque(20.0), stiff = with_plate_torque(60.0);
  CHECK(relative_error(soft.state.coupling_stiffness[soft.plate], 9.0 / degree) < 1e-12);
  CHECK(relative_error(soft.state.coupling_twist[soft.plate], (0.5 + 20.0 / 9.0) * degree) < 1e-12);
  CHECK(relative_error(stiff.state.coupling_stiffness[stiff.plate], 16.0 / degree) < 1e-12);
  CHECK(relative_error(stiff.state.coupling_twist[stiff.plate], (4.0 + 28.5 / 16.0) * degree) < 1e-12);
}

TEST_CASE("beyond the stop angle the stop carries what the springs cannot") {
  // springs at 16 degrees: 31.5 + 12 x 16 = 223.5 N m; the stop of 1600 N m/deg acts beside 16 N m/deg
  const Mean pressed = with_plate_torque(300.0);
  CHECK(relative_error(pressed.state.coupling_twist[pressed.plate], (16.0 + 76.5 / 1616.0) * degree) < 1e-12);
  CHECK(relative_error(pressed.state.coupling_stiffness[pressed.plate], 1616.0 / degree) < 1e-12);
}

TEST_CASE("a line that drives the engine stands on its coast sides") {
  const Mean driven = with_plate_torque(-20.0);
  CHECK(relative_error(driven.state.coupling_twist[driven.plate], -(0.5 + 20.0 / 9.0) * degree) < 1e-12);
  const double mesh_torque = -25.05;
  CHECK(relative_error(driven.state.coupling_twist[2], -0.125 * degree + mesh_torque / 6e5) < 1e-12);
  CHECK(driven.state.coupling_damping[2] > 0.0);
}

TEST_CASE("a plate without torque stands where its springs begin") {
  const Mean idle = with_plate_torque(0.0);
  CHECK(std::fabs(idle.state.coupling_twist[idle.plate]) == doctest::Approx(0.5 * degree).epsilon(1e-12));
  CHECK(relative_error(idle.state.coupling_stiffness[idle.plate], 9.0 / degree) < 1e-12);
}

TEST_CASE("the softest stage is a stiffness, not a change of it") {
  Model::Damper damper{};
  damper.ramps = 5;  // drive 500, 900, 600 N m/rad; coast 800, 1000
  const double sides[] = {1, 1, 1, -1, -1}, slopes[] = {500, 400, -300, 800, 200};
  for (int i = 0; i < damper.ramps; ++i) damper.ramp[i] = {sides[i], 0.01 * i, slopes[i]};
  CHECK(softest_stage(damper) == 500.0);
  damper.ramp[0].slope = 1200.0;
  CHECK(softest_stage(damper) == 800.0);
  damper.ramps = 0;
  CHECK(std::isinf(softest_stage(damper)));
}
