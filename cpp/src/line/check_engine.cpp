// Rules of crank, pistons, rods and rating. The usual sizes are common practice without a source;
// they are wide, so that they catch a wrong unit and no real engine.
#include <cmath>
#include <numbers>
#include <string>

#include "calmshaft/line/checker.hpp"

namespace calmshaft {
namespace {

using namespace workshop;

constexpr double same_angle = 1e-6;  // [rad] far below what a firing angle is known to

bool is_two_or_four(int strokes) { return strokes == 2 || strokes == 4; }

void check_firing(const Engine& engine, Checker& checker) {
  const std::string key = "firing_order";
  if (engine.firing_angles.empty())
    checker.fault(key, "empty", "must name every cylinder", "write the order, e.g. [1, 3, 4, 2]");
  if (!is_two_or_four(engine.strokes)) return;
  const double cycle = std::numbers::pi * engine.strokes;
  for (std::size_t i = 0; i < engine.firing_angles.size(); ++i) {
    const double angle = engine.firing_angles[i];
    const std::string cylinder = " for cylinder " + std::to_string(i + 1);
    if (!(angle >= 0 && angle < cycle))
      checker.fault(
          key, show(angle, degree) + cylinder,
          "must lie from 0 deg to below " + show(cycle, degree) + ", one working cycle",
          "write the firing angles of one cycle, counted from firing top dead centre of cylinder 1");
    for (std::size_t k = 0; k < i; ++k)
      if (std::fabs(angle - engine.firing_angles[k]) < same_angle)
        checker.warn(key, show(angle, degree) + cylinder,
                     "is that of cylinder " + std::to_string(k + 1) + " too",
                     "leave it if the two really fire together");
  }
}

// Whether the rod's length can be believed.
bool check_rod(const Engine& engine, Checker& checker) {
  const std::string measure = "measure between the middles of its two bores, e.g. \"160 mm\"";
  if (!checker.positive("rod_length", engine.rod_length, millimetre, measure) || !(engine.stroke > 0))
    return false;
  bool plausible = engine.rod_length > engine.stroke / 2;
  if (!plausible)
    checker.fault("rod_length", show(engine.rod_length, millimetre),
                  "must be longer than the crank radius of " + show(engine.stroke / 2, millimetre), measure);
  else
    plausible = checker.usual("rod_length", engine.rod_length, 1.2 * engine.stroke, 3.0 * engine.stroke,
                              millimetre, measure);
  const std::string scale =
      "weigh each end with the rod level: length x small-end reading / sum, e.g. \"52 mm\"";
  if (checker.between("rod_centre_from_big_end", engine.rod_centre_from_big_end, 0.0, engine.rod_length,
                      millimetre, scale))
    checker.usual("rod_centre_from_big_end", engine.rod_centre_from_big_end, 0.15 * engine.rod_length,
                  0.5 * engine.rod_length, millimetre, "count it from the big end");
  return plausible;
}

double swept_litres(const Engine& engine) {
  return 1000.0 * std::numbers::pi / 4 * engine.bore * engine.bore * engine.stroke *
         static_cast<double>(engine.firing_angles.size());
}

// Against bore and stroke in metres, where those can be believed; rod: J = m r^2 with r a part of the length;
// crank: by swept volume and stroke.
void check_masses(const Engine& engine, bool sized, Checker& checker) {
  const double bore_cube = engine.bore * engine.bore * engine.bore;
  const double slab = engine.bore * engine.bore * engine.rod_length;
  const double length_square = engine.rod_length * engine.rod_length;
  const double crank = swept_litres(engine) * engine.stroke * engine.stroke;
  const auto size = [&](const std::string& key, double value, double low, double high,
                        const WorkshopUnit& unit, const std::string& advice) {
    if (checker.positive(key, value, unit, advice) && sized)
      checker.usual(key, value, low, high, unit, advice);
  };
  size("piston_mass", engine.piston_mass, 250 * bore_cube, 6000 * bore_cube, kilogram,
       "weigh it with pin and rings, e.g. \"0.95 kg\"");
  size("rod_mass", engine.rod_mass, 120 * slab, 4000 * slab, kilogram, "weigh it, e.g. \"1.1 kg\"");
  size("rod_inertia", engine.rod_inertia, 0.03 * engine.rod_mass * length_square,
       0.4 * engine.rod_mass * length_square, inertia,
       "leave it out: mass and centre give it within a tenth");
  size("crank_inertia", engine.crank_inertia, 0.2 * crank, 20 * crank, inertia,
       "leave out rods and flywheel, e.g. \"0.055 kg*m^2\"");
}

// Mean effective pressure of the rated torque: p = pi strokes T / V, V of all cylinders.
void check_rating(const Engine& engine, bool sized, Checker& checker) {
  const bool torque_holds = checker.positive("rated_torque", engine.rated_torque, torque,
                                             "write the data plate's, e.g. \"165 N*m\"");
  if (checker.positive("rated_rpm", engine.rated_speed, speed, "write the data plate's, e.g. 2600"))
    checker.usual("rated_rpm", engine.rated_speed, 300 * rpm, 9000 * rpm, speed,
                  "write turns of the crank a minute");
  if (!torque_holds || !sized || !is_two_or_four(engine.strokes)) return;
  const double bar =
      1e5 * swept_litres(engine) / 1000 / (std::numbers::pi * engine.strokes);  // [N m] torque of one bar
  checker.usual("rated_torque", engine.rated_torque, 2 * bar, 35 * bar, torque,
                "look at its unit, and at bore, stroke and number of cylinders");
}

}  // namespace

void check_engine(const Engine& engine, Checker checker) {
  if (!is_two_or_four(engine.strokes))
    checker.fault("strokes", std::to_string(engine.strokes), "must be 2 or 4",
                  "write 4 for a four-stroke engine");
  check_firing(engine, checker);
  const std::string calipers = "measure it with calipers, in mm or in";
  const auto size = [&](const std::string& key, double value) {
    return checker.positive(key, value, millimetre, calipers) &&
           checker.usual(key, value, 0.030, 0.600, millimetre, "look at its unit: mm or in");
  };
  const bool bore = size("bore", engine.bore);
  const bool stroke = size("stroke", engine.stroke);
  const bool rod = check_rod(engine, checker);
  const bool sized = bore && stroke && rod && !engine.firing_angles.empty();
  const std::string ratio = "write swept plus clearance volume over clearance volume, e.g. 18.5";
  if (checker.between("compression_ratio", engine.compression_ratio, 1.0, 100.0, number, ratio))
    checker.usual("compression_ratio", engine.compression_ratio, 5.0, 25.0, number, ratio);
  check_masses(engine, sized, checker);
  check_rating(engine, sized, checker);
  check_combustion(engine, checker);
}

}  // namespace calmshaft
