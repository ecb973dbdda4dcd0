// Rules of the gearbox. Usual sizes: common practice, no source, a factor of ten about the estimates.
#include <string>

#include "calmshaft/line/checker.hpp"

namespace calmshaft {
namespace {

using namespace workshop;

const std::string leave_out = "leave it out to have it estimated";

void check_contact(const ToothContact& contact, double rated_torque, Checker& checker) {
  if (checker.not_negative("backlash", contact.backlash, degree, leave_out))
    checker.usual("backlash", contact.backlash, 0.0, 3 * degree.si, degree,
                  "measure it at the input shaft, in deg");
  if (checker.positive("mesh_stiffness", contact.stiffness, tooth, leave_out) && rated_torque > 0)
    checker.usual("mesh_stiffness", contact.stiffness, 400 * rated_torque, 40000 * rated_torque, tooth,
                  "write it at the input shaft, in N*m/rad");
  checker.share("restitution", contact.restitution, "write about 0.8");
  checker.positive("restitution_speed", contact.restitution_speed, crawl, "write about \"0.5 rad/s\"");
}

void check_loaded(const LoadedPair& pair, double rated_torque, Checker checker) {
  const std::string count = "count input turns for one output turn, e.g. 2.0";
  if (checker.positive("ratio", pair.ratio, number, count + "; astern is positive too"))
    checker.usual("ratio", pair.ratio, 0.5, 8.0, number, count);
  checker.positive("output_inertia", pair.output_inertia, inertia, leave_out);
  check_contact(pair.contact, rated_torque, checker);
}

void check_unloaded(const UnloadedPair& pair, double rated_torque, Checker checker) {
  checker.positive("inertia", pair.inertia, inertia, leave_out);
  if (checker.not_negative("drag", pair.drag, torque, leave_out) && rated_torque > 0)
    checker.usual("drag", pair.drag, 0.0, 0.2 * rated_torque, torque,
                  "write the drag of the free gear alone");
  if (!pair.turns_in_ahead && !pair.turns_in_astern && !pair.turns_in_neutral)
    checker.warn("turns_in", "empty", "never turns",
                 "name the gears in which it turns, or leave the pair out");
  check_contact(pair.contact, rated_torque, checker);
}

}  // namespace

void check_gearbox(const Line& line, Checker checker) {
  const Gearbox& box = line.gearbox;
  if (checker.positive("rated_torque", box.rated_torque, torque, "write the box's own rating at its input") &&
      line.engine.rated_torque > box.rated_torque)
    checker.warn("rated_torque", show(box.rated_torque, torque),
                 "is below the engine's rated torque of " + show(line.engine.rated_torque, torque),
                 "the gearbox is loaded above its rating; ask its maker");
  checker.positive("input_inertia", box.input_inertia, inertia, leave_out);
  checker.not_negative("input_drag", box.input_drag, torque, leave_out);
  if (box.ahead) check_loaded(*box.ahead, box.rated_torque, checker.part("ahead"));
  if (box.astern) check_loaded(*box.astern, box.rated_torque, checker.part("astern"));
  for (std::size_t i = 0; i < box.unloaded.size(); ++i)
    check_unloaded(box.unloaded[i], box.rated_torque, checker.part("unloaded[" + std::to_string(i) + "]"));
}

}  // namespace calmshaft
