// The invented harbour launch for tests: four-cylinder diesel, plate with two stages, 2:1 gearbox ahead and astern.
#pragma once

#include <cmath>
#include <numbers>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/engine/firing.hpp"
#include "calmshaft/engine/fuel_defaults.hpp"
#include "calmshaft/line/line.hpp"

namespace sample {

inline constexpr double degree = std::numbers::pi / 180.0;  // [rad]

inline calmshaft::Engine launch_engine() {
  calmshaft::Engine engine;
  engine.firing_angles = calmshaft::firing_angles({1, 3, 4, 2}, 4);
  engine.bore = 0.092;
  engine.stroke = 0.098;
  engine.rod_length = 0.160;
  engine.compression_ratio = 18.5;
  engine.piston_mass = 0.95;
  engine.rod_mass = 1.1;
  engine.rod_centre_from_big_end = 0.052;
  engine.rod_inertia = 0.0056;
  engine.crank_inertia = 0.055;
  engine.rated_torque = 165.0;
  engine.rated_speed = 2600.0 * calmshaft::rpm;
  engine.combustion = calmshaft::default_combustion(calmshaft::Fuel::diesel, 4);
  engine.friction = calmshaft::default_friction(calmshaft::Fuel::diesel, 4, engine.stroke);
  return engine;
}

inline calmshaft::Plate plate_b() {
  calmshaft::Plate plate;
  plate.hub_inertia = 0.004;
  plate.free_play = 1.0 * degree;
  plate.hysteresis_full_width = 6.0;
  plate.presliding_angle = 0.1 * degree;
  plate.viscous_damping = 0.5;
  plate.stop_stiffness = 1600.0 / degree;
  for (calmshaft::PlateSide* side : {&plate.drive, &plate.coast})
    *side = {{{9.0 / degree, 4.0 * degree}, {16.0 / degree, 16.0 * degree}}, 16.0 * degree};
  return plate;
}

inline calmshaft::Line launch() {
  calmshaft::Line line;
  line.engine = launch_engine();
  line.flywheel_inertia = 0.45;
  line.plate = plate_b();
  const calmshaft::ToothContact teeth{0.25 * degree, 6e5};
  line.gearbox.rated_torque = 250.0;
  line.gearbox.input_inertia = 0.020;
  line.gearbox.input_drag = 3.75;
  line.gearbox.ahead = line.gearbox.astern = calmshaft::LoadedPair{2.0, 0.030, teeth};
  line.gearbox.unloaded = {{"free pair", true, true, true, 0.0042, 1.3, teeth}};
  line.shaft = calmshaft::Shaft{5290.0, 0.0025, 0.01, 1};
  line.propeller = calmshaft::Propeller{0.0931, 0.0198, 165.0, 2600.0 * calmshaft::rpm};
  return line;
}

inline calmshaft::Condition at_rpm(double speed, calmshaft::Gear gear = calmshaft::Gear::ahead) {
  calmshaft::Condition condition;
  condition.speed = speed * calmshaft::rpm;
  condition.gear = gear;
  return condition;
}

}  // namespace sample
