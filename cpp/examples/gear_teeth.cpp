// What the gear teeth of an invented launch feel at idle ahead: plate bolted solid, then sprung with 9 N m/deg.
// Values in SI and radians.
#include <cstdio>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/engine/firing.hpp"
#include "calmshaft/engine/fuel_defaults.hpp"
#include "calmshaft/simulate/steady.hpp"
using namespace calmshaft;

int main() {
  const double degree = two_pi / 360;
  const ToothContact teeth{.backlash = 0.25 * degree, .stiffness = 6e5};
  const PlateSide spring{{{9 / degree, 16 * degree}}, 16 * degree};
  Line line;
  line.engine = {.firing_angles = firing_angles({1, 3, 4, 2}, 4),
                 .bore = 0.092,
                 .stroke = 0.098,
                 .rod_length = 0.160,
                 .compression_ratio = 18.5,
                 .piston_mass = 0.95,
                 .rod_mass = 1.1,
                 .rod_centre_from_big_end = 0.052,
                 .rod_inertia = 0.0056,
                 .crank_inertia = 0.055,
                 .rated_torque = 165,
                 .rated_speed = 2600 * rpm,
                 .combustion = default_combustion(Fuel::diesel, 4),
                 .friction = default_friction(Fuel::diesel, 4, 0.098)};
  line.flywheel_inertia = 0.45;
  line.plate = {.hub_inertia = 0.004,
                .free_play = 1.0 * degree,
                .hysteresis_full_width = 6.0,
                .presliding_angle = 0.1 * degree,
                .viscous_damping = 0.5,
                .stop_stiffness = 900 / degree,
                .drive = spring,
                .coast = spring};
  line.gearbox = {
      .rated_torque = 250, .input_inertia = 0.020, .input_drag = 5.0, .ahead = LoadedPair{2.0, 0.030, teeth}};
  line.shaft = {.stiffness = 5300, .inertia = 0.0025, .damping_ratio = 0.01};
  line.propeller = {.inertia = 0.093, .water_inertia = 0.020, .absorbs_torque = 165, .absorbs_speed = 2600 * rpm};
  for (const bool rigid : {true, false}) {
    line.plate.rigid = rigid;
    const SteadyResult run = steady(PreparedLine(line), {.speed = 800 * rpm});
    const auto value = [&](Measure measure) { return run.measures[index_of(measure)]; };
    std::printf("%s: mean torque %.2f N m, ripple %.2f N m, least %.2f N m, teeth apart %.1f %% of the time\n",
                rigid ? "rigid" : "sprung", value(Measure::mesh_torque_mean), value(Measure::mesh_torque_ripple),
                value(Measure::mesh_torque_min), 100 * value(Measure::mesh_separated_share));
  }
}
