#include "calmshaft/simulate/schedule.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>

#include "calmshaft/line/check.hpp"
#include "calmshaft/line/checker.hpp"

namespace calmshaft {
namespace {

struct NamedTrack {
  const char* name;
  const Track* track;
  double lowest, highest;
  WorkshopUnit unit;
};

std::array<NamedTrack, 7> tracks_of(const Schedule& s, double most_speed) {
  const double most = std::numeric_limits<double>::max();
  using namespace workshop;
  return {{{"speed", &s.speed, 0.0, most_speed, speed},
           {"load", &s.load, 0.0, most, number},
           {"fuel", &s.fuel, 0.0, 1.0, number},
           {"starter", &s.starter, 0.0, 1.0, number},
           {"fault", &s.fault, 0.0, 1.0, number},
           {"release", &s.release, 0.0, most, torque},
           {"engage", &s.engage, 0.0, most, torque}}};
}

void check_track(const NamedTrack& one, Checker& checker) {
  double before = -std::numeric_limits<double>::infinity();
  for (const auto& [time, value] : *one.track) {
    if (!std::isfinite(time) || time < before)
      checker.fault(one.name, std::to_string(time) + " s", "must have its points in the order of time",
                    "write the times in seconds, none before the one in front of it");
    if (!(value >= one.lowest && value <= one.highest))
      checker.fault(
          one.name, show(value, one.unit),
          "must lie from " + show(one.lowest, one.unit) +
              (one.highest < std::numeric_limits<double>::max() ? " to " + show(one.highest, one.unit) : " up"),
          "stay within it all the time");
    before = time;
  }
}

void check_gears(const Line& line, const Condition& condition, const Schedule& schedule, Checker& checker) {
  if (!schedule.engages) return;
  const Gear gear = *schedule.engages;
  if (gear == Gear::neutral || gear == condition.gear)
    checker.fault("gear", gear == Gear::neutral ? "neutral" : "the one it is in",
                  "must be another gear than at the start", "write ahead or astern");
  Condition engaged = condition;
  engaged.gear = gear;
  for (const Fault& fault : check(line, engaged))
    if (fault.path == "gear") checker.fault("gear", fault.value, fault.rule, fault.advice);
}

}  // namespace

TrackPiece piece_of(const Track& track, double default_value, double from, double to) {
  if (track.empty()) return {from, default_value, 0.0};
  const double middle = 0.5 * (from + to);
  const auto after = std::find_if(track.begin(), track.end(), [&](const auto& point) { return point.first > middle; });
  if (after == track.begin()) return {from, track.front().second, 0.0};
  const auto& [time, value] = *(after - 1);
  if (after == track.end()) return {from, value, 0.0};
  const double slope = (after->second - value) / (after->first - time);
  return {from, value + slope * (from - time), slope};
}

std::vector<double> changes_of(const Schedule& schedule) {
  std::vector<double> times{schedule.duration};
  for (const NamedTrack& one : tracks_of(schedule, 0.0))
    for (const auto& [time, value] : *one.track)
      if (time > 0 && time < schedule.duration) times.push_back(time);
  std::sort(times.begin(), times.end());
  times.erase(std::unique(times.begin(), times.end()), times.end());
  return times;
}

void check_schedule(const Line& line, const Condition& condition, const Schedule& schedule) {
  std::vector<Fault> faults;
  Checker checker(faults, "manoeuvre");
  if (!(schedule.duration > 0 && schedule.duration <= 3600))
    checker.fault("duration", std::to_string(schedule.duration) + " s", "must lie above 0 s and up to 3600 s",
                  "write how long to look on");
  for (const NamedTrack& one : tracks_of(schedule, 1.3 * line.engine.rated_speed)) check_track(one, checker);
  check_gears(line, condition, schedule, checker);
  Condition faulty = condition;
  faulty.strengths = schedule.faulty_strengths;
  for (const Fault& fault : check(line, faulty))
    if (fault.path == "misfiring" && fault.value != "every cylinder dead")
      checker.fault("cylinder", fault.value, fault.rule, fault.advice);
  if (!faults.empty()) throw LineError(std::move(faults));
}

}  // namespace calmshaft
