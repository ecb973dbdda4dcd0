// Rules of the spring damper plate.
#include <cmath>
#include <limits>
#include <string>

#include "calmshaft/line/checker.hpp"
#include "calmshaft/line/plate_torque.hpp"

namespace calmshaft {
namespace {

using namespace workshop;

const std::string count_from_middle = "count twist from the middle of the free play, half the play included";

void check_stages(const PlateSide& side, double free_play, Checker& checker) {
  double begin = free_play > 0 ? 0.5 * free_play : 0.0;
  for (std::size_t i = 0; i < side.stages.size(); ++i) {
    const PlateStage& stage = side.stages[i];
    Checker own = checker.part("stages[" + std::to_string(i) + "]");
    own.positive("stiffness", stage.stiffness, spring, "write the slope of its torque, e.g. \"16 N*m/deg\"");
    const bool last = i + 1 == side.stages.size();
    const bool endless = last && stage.until == std::numeric_limits<double>::infinity();
    if (!endless && !(stage.until > begin && std::isfinite(stage.until)))
      own.fault("until", show(stage.until, degree),
                i == 0 ? "must lie outside half the free play of " + show(begin, degree)
                       : "must be more than the stage before, which ends at " + show(begin, degree),
                i == 0 ? count_from_middle : "list the stages from the middle outwards");
    if (std::isfinite(stage.until)) begin = stage.until;
  }
}

// Whether the stop can be believed.
bool check_side(const Plate& plate, const PlateSide& side, Checker checker) {
  if (side.stages.empty()) {
    checker.fault("stages", "empty", "must have one stage at least",
                  "write stiffness and end of each stage, or kind = \"rigid\" for a solid drive");
    return false;
  }
  check_stages(side, plate.free_play, checker);
  const std::size_t stages = side.stages.size();
  const double corner = stages > 1 ? side.stages[stages - 2].until : 0.5 * plate.free_play;
  if (!(side.stop_angle > corner)) {
    checker.fault("stop_angle", show(side.stop_angle, degree),
                  "must lie outside the last corner of the springs at " + show(corner, degree),
                  count_from_middle);
    return false;
  }
  return !std::isfinite(side.stop_angle) ||
         checker.usual("stop_angle", side.stop_angle, 0.5 * degree.si, 90 * degree.si, degree,
                       "look at its unit: deg or rad");
}

void check_damping(const Plate& plate, Checker& checker) {
  const std::string unknown = "write \"unknown\" to have it estimated";
  checker.not_negative("hub_inertia", plate.hub_inertia, inertia, unknown);
  if (plate.rigid) return;
  if (checker.not_negative("free_play", plate.free_play, degree, unknown))
    checker.usual("free_play", plate.free_play, 0.0, 15 * degree.si, degree, "write the whole width, in deg");
  const bool slides =
      checker.not_negative("hysteresis_full_width", plate.hysteresis_full_width, torque, unknown);
  const bool held = checker.not_negative("presliding_angle", plate.presliding_angle, degree, unknown);
  if (slides && held && plate.hysteresis_full_width > 0 && plate.presliding_angle == 0)
    checker.fault("presliding_angle", show(0.0, degree), "must be more than zero where there is hysteresis",
                  "write about \"0.1 deg\"");
  checker.not_negative("viscous_damping", plate.viscous_damping, damping, unknown);
}

void check_stop(const Plate& plate, Checker& checker) {
  if (!std::isfinite(plate.drive.stop_angle) && !std::isfinite(plate.coast.stop_angle)) return;
  checker.positive("stop_stiffness", plate.stop_stiffness, spring,
                   "write about a hundred times the last stage");
  checker.share("stop_restitution", plate.stop_restitution, "write about 0.8");
}

void warn_of_weakness(const Line& line, Checker& checker) {
  const Plate& plate = line.plate;
  const double needed = line.engine.rated_torque;
  const double stated = plate.rated_torque.value_or(0.0);
  if (stated > 0 && needed > stated)
    checker.warn("rated_torque", show(stated, torque),
                 "is below the engine's rated torque of " + show(needed, torque),
                 "choose a plate for at least that torque");
  const double stop = plate.drive.stop_angle;
  if (!std::isfinite(stop)) return;
  const double at_stop = elastic_torque(plate.drive, plate.free_play, stop);
  const std::string value = show(stop, degree) + ", where the springs carry " + show(at_stop, torque);
  const std::string advice =
      "the plate would run on its stop; look at stages and stop angle, or choose a stronger one";
  if (at_stop < needed)
    checker.warn("stop_angle", value, "is below the engine's rated torque of " + show(needed, torque),
                 advice);
  if (at_stop < stated)
    checker.warn("stop_angle", value, "is below the plate's stated torque of " + show(stated, torque),
                 advice);
}

// Plates carry rated torque within 1 and 60 degrees (common practice, no source); rad for deg is a factor
// of 57.
void warn_of_units(const Line& line, Checker& checker) {
  const Plate& plate = line.plate;
  if (!(line.engine.rated_torque > 0)) return;
  const double play = 0.5 * plate.free_play;
  const std::string value = show(plate.drive.stages.back().stiffness, spring);
  const std::string key = "stages[" + std::to_string(plate.drive.stages.size() - 1) + "].stiffness";
  if (elastic_torque(plate.drive, plate.free_play, play + 1 * degree.si) > line.engine.rated_torque)
    checker.warn(key, value, "carries the rated torque within one degree",
                 "look at its unit: N*m/deg or N*m/rad");
  if (elastic_torque(plate.drive, plate.free_play, play + 60 * degree.si) < line.engine.rated_torque)
    checker.warn(key, value, "needs more than 60 deg for the rated torque",
                 "look at its unit: N*m/deg or N*m/rad");
}

bool same(const PlateSide& a, const PlateSide& b) {
  if (a.stages.size() != b.stages.size() || a.stop_angle != b.stop_angle) return false;
  for (std::size_t i = 0; i < a.stages.size(); ++i)
    if (a.stages[i].stiffness != b.stages[i].stiffness || a.stages[i].until != b.stages[i].until)
      return false;
  return true;
}

}  // namespace

void check_plate(const Line& line, Checker checker) {
  const Plate& plate = line.plate;
  check_damping(plate, checker);
  if (plate.rated_torque)
    checker.positive("rated_torque", *plate.rated_torque, torque, "leave it out where its maker states none");
  if (plate.rigid) return;
  const bool drive_holds = check_side(plate, plate.drive, checker);
  if (!same(plate.drive, plate.coast)) check_side(plate, plate.coast, checker.part("coast"));
  check_stop(plate, checker);
  if (!drive_holds) return;
  warn_of_weakness(line, checker);
  warn_of_units(line, checker);
}

}  // namespace calmshaft
