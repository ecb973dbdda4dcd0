// Rules of shaft and propeller. Usual sizes: common practice, no source.
#include <numbers>
#include <string>

#include "calmshaft/line/checker.hpp"

namespace calmshaft {
namespace {

using namespace workshop;

constexpr int most_divisions = 8;  // the line has at most twelve stations

// Torque at the gearbox input that pump, seals and the gears turning along ahead take away.
double drags_ahead(const Gearbox& box) {
  double sum = box.input_drag;
  for (const UnloadedPair& pair : box.unloaded)
    if (pair.turns_in_ahead) sum += pair.drag;
  return sum;
}

void check_law(const Line& line, Checker& checker) {
  const Propeller& propeller = *line.propeller;
  const std::string reach = "write the rpm that the line reaches at full throttle ahead";
  if (checker.positive("absorbs_torque", propeller.absorbs_torque, torque, reach)) {
    const double drags = drags_ahead(line.gearbox);
    if (propeller.absorbs_torque <= drags)
      checker.fault("absorbs_torque", show(propeller.absorbs_torque, torque),
                    "must be more than the drags of the gearbox, " + show(drags, torque), "look at both");
    if (line.engine.rated_torque > 0)
      checker.usual("absorbs_torque", propeller.absorbs_torque, 0.1 * line.engine.rated_torque,
                    1.5 * line.engine.rated_torque, torque, "write the torque at the gearbox input");
  }
  if (checker.positive("absorbs_rpm", propeller.absorbs_speed, speed, reach) && line.engine.rated_speed > 0)
    checker.usual("absorbs_rpm", propeller.absorbs_speed, 0.4 * line.engine.rated_speed,
                  1.3 * line.engine.rated_speed, speed, "write turns of the crank, not of the propeller");
}

}  // namespace

void check_shaft(const Line& line, Checker checker) {
  if (!line.shaft) return;
  const Shaft& shaft = *line.shaft;
  const bool stiff =
      checker.positive("stiffness", shaft.stiffness, tooth, "look at diameter, length and material");
  if (shaft.divisions < 1 || shaft.divisions > most_divisions)
    checker.fault("divisions", std::to_string(shaft.divisions),
                  "must be 1 to " + std::to_string(most_divisions), "write 1 unless the shaft is long");
  if (checker.not_negative("inertia", shaft.inertia, inertia, "look at diameter and length") &&
      shaft.inertia == 0 && shaft.divisions > 1)
    checker.fault("inertia", show(0.0, inertia), "must be more than zero for a shaft in pieces",
                  "write divisions = 1");
  if (checker.not_negative("damping_ratio", shaft.damping_ratio, number, "write about 0.01"))
    checker.usual("damping_ratio", shaft.damping_ratio, 0.0, 0.1, number, "write about 0.01");
  const auto& pair = line.gearbox.ahead ? line.gearbox.ahead : line.gearbox.astern;
  if (!stiff || !pair || !(pair->ratio > 0) || !(line.engine.rated_torque > 0)) return;
  const double twisting = line.engine.rated_torque * pair->ratio;
  checker.usual(
      "stiffness", shaft.stiffness, twisting / (20 * degree.si), twisting / (0.01 * degree.si), tooth,
      "rated torque should twist the shaft 0.01 to 20 deg: look at the units of diameter and length");
}

void check_propeller(const Line& line, Checker checker) {
  if (!line.propeller) return;
  const Propeller& propeller = *line.propeller;
  const bool heavy =
      checker.positive("inertia", propeller.inertia, inertia, "weigh it: mass x (0.2 diameter)^2");
  if (checker.not_negative("water_inertia", propeller.water_inertia, inertia,
                           "leave it out to have it estimated") &&
      heavy)
    checker.usual("water_inertia", propeller.water_inertia, 0.0, 2 * propeller.inertia, inertia,
                  "write the water alone; the dry propeller is `inertia`");
  check_law(line, checker);
  if (checker.positive("tied_up_factor", propeller.tied_up_factor, number, "write about 1.25"))
    checker.usual("tied_up_factor", propeller.tied_up_factor, 0.8, 2.5, number, "write about 1.25");
  if (checker.not_negative("extra_damping", propeller.extra_damping, number, "write about 0.5"))
    checker.usual("extra_damping", propeller.extra_damping, 0.0, 5.0, number, "write about 0.5");
}

}  // namespace calmshaft
