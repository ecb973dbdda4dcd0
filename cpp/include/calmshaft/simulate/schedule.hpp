// What a manoeuvre does to a line over time: a few tracks of values, and the gears and cylinders they are about.
#pragma once

#include <optional>
#include <utility>
#include <vector>

#include "calmshaft/line/line.hpp"

namespace calmshaft {

// (time [s], value): straight between points, level before the first and after the last; two points at one time
// make a step. Empty: the default of the track.
using Track = std::vector<std::pair<double, double>>;

// Value and slope of a track within a stretch of time that no point of it lies inside.
struct TrackPiece {
  double start = 0;  // [s]
  double value = 0;  // [unit of the track] at the start
  double slope = 0;  // [unit of the track/s]
  double at(double time) const { return value + slope * (time - start); }
};

TrackPiece piece_of(const Track& track, double default_value, double from, double to);

struct Schedule {
  double duration = 0;                   // [s] from time 0; before it the line settles at the first values
  Track speed;                           // [rad/s] mean crank speed asked of the governor; default: the condition's
  Track load;                            // [-] factor of the propeller's torque; default 1
  Track fuel;                            // [-] 1 on, 0 off; default 1
  Track starter;                         // [-] 1 turns the crank at the condition's speed, 0 off; default 0
  Track fault;                           // [-] 1: `faulty_strengths` hold, 0: those of the condition; default 0
  std::vector<double> faulty_strengths;  // [-] 0..1 by cylinder number
  // A change of gear: from that of the condition to `engages`, through the clutches' capacities at their plates.
  std::optional<Gear> engages;
  Track release;  // [N m] at the gearbox input, of the gear at the start; default 0
  Track engage;   // [N m] at the gearbox input, of the gear to engage; default 0
};

// Times in (0, duration) at which some track has a point, and the duration itself.
std::vector<double> changes_of(const Schedule& schedule);

// Throws LineError with every fault of a schedule for a line in a condition.
void check_schedule(const Line& line, const Condition& condition, const Schedule& schedule);

}  // namespace calmshaft
