#include "calmshaft/line/check.hpp"

#include <algorithm>
#include <optional>
#include <string>

#include "calmshaft/line/checker.hpp"

namespace calmshaft {
namespace {

// A gear pair, or ahead a table without one.
bool drives(const Line& line, Gear gear) {
  if (gear == Gear::astern) return line.gearbox.astern.has_value();
  return line.gearbox.ahead || line.table.joins(PartStation::gearbox_input, PartStation::propeller);
}

bool has_shaft(const Line& line) {
  return line.shaft || line.table.joins(PartStation::gearbox_output, PartStation::propeller) ||
         line.table.joins(PartStation::gearbox_input, PartStation::propeller);
}

// A rule per missing part: the line runs, in neutral only.
void warn_of_missing_parts(const Line& line, Checker checker) {
  const auto expect = [&](bool present, const std::string& key) {
    if (!present) checker.warn(key, "", "is missing: only neutral can be answered", "describe it for answers in gear");
  };
  expect(drives(line, Gear::ahead) || drives(line, Gear::astern), "gearbox.ahead");
  expect(has_shaft(line), "shaft");
  expect(line.propeller.has_value(), "propeller");
}

void check_flywheel(const Line& line, Checker checker) {
  const std::string advice = "hang it on three wires or weigh it, and write its inertia, e.g. \"0.45 kg*m^2\"";
  if (!checker.positive("inertia", line.flywheel_inertia, workshop::inertia, advice)) return;
  // Flywheels of small engines have 0.0006 to 0.003 kg m^2 for each N m of rated torque (common practice, no
  // source).
  if (line.engine.rated_torque > 0)
    checker.usual("inertia", line.flywheel_inertia, 1e-4 * line.engine.rated_torque, 0.05 * line.engine.rated_torque,
                  workshop::inertia, "look at its unit");
}

void check_gear(const Line& line, Gear gear, Checker checker) {
  if (gear == Gear::neutral) return;
  const std::string name = gear == Gear::ahead ? "ahead" : "astern";
  const auto need = [&](bool present, const std::string& what) {
    if (!present)
      checker.fault("gear", name, "needs " + what + ", which this line does not have",
                    "describe " + what + "; without it only neutral can be answered");
  };
  need(drives(line, gear), "gearbox." + name);
  need(has_shaft(line), "shaft");
  need(line.propeller.has_value(), "propeller");
}

void check_strengths(const Line& line, const Condition& condition, Checker checker) {
  const auto& strengths = condition.strengths;
  if (strengths.empty()) return;
  const std::string cylinders = std::to_string(line.engine.firing_angles.size());
  const std::string advice = "write 0 for a dead cylinder, 1 for a healthy one, 0.5 for half strength";
  if (strengths.size() != line.engine.firing_angles.size())
    checker.fault("misfiring", std::to_string(strengths.size()) + " strengths",
                  "must give one strength for each of the " + cylinders + " cylinders",
                  "name only cylinders 1 to " + cylinders);
  bool any_fires = false;
  for (std::size_t i = 0; i < strengths.size(); ++i) {
    const bool valid = strengths[i] >= 0 && strengths[i] <= 1;
    any_fires = any_fires || !(strengths[i] == 0);
    if (!valid)
      checker.fault("misfiring", show(strengths[i], workshop::number) + " for cylinder " + std::to_string(i + 1),
                    "must lie from 0 to 1", advice);
  }
  if (!any_fires) checker.fault("misfiring", "every cylinder dead", "must leave one cylinder that fires", advice);
}

void check_load(const Condition& condition, Checker checker) {
  if (condition.load == LoadCase::torque)
    checker.not_negative("load", condition.load_torque, workshop::torque,
                         "write the torque the propeller takes at the gearbox input, e.g. \"80 N*m\"");
}

}  // namespace

std::vector<Fault> check(const Line& line) {
  std::vector<Fault> faults;
  check_engine(line.engine, {faults, "engine"});
  check_flywheel(line, {faults, "flywheel"});
  if (!line.table.joins(PartStation::crank, PartStation::gearbox_input)) check_plate(line, {faults, "plate"});
  check_gearbox(line, {faults, "gearbox"});
  check_shaft(line, {faults, "shaft"});
  check_propeller(line, {faults, "propeller"});
  check_table(line, {faults, "mass_elastic"});
  warn_of_missing_parts(line, {faults, ""});
  return faults;
}

std::vector<Fault> check(const Line& line, const Condition& condition) {
  std::vector<Fault> faults;
  Checker checker(faults, "");
  // Below and above, the pressures and frictions of a line file say nothing about the engine.
  checker.between(
      "rpm", condition.speed, std::min(50.0 * rpm, 0.2 * line.engine.rated_speed), 1.3 * line.engine.rated_speed,
      workshop::speed,
      "stay within 1.3 times the engine's rated speed of " + show(line.engine.rated_speed, workshop::speed));
  check_gear(line, condition.gear, checker);
  check_strengths(line, condition, checker);
  check_load(condition, checker);
  return faults;
}

}  // namespace calmshaft
