// A line from engine to propeller, and the condition it is asked about.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "calmshaft/line/elements.hpp"
#include "calmshaft/line/mass_elastic_table.hpp"

namespace calmshaft {

struct Line {
  std::string title;
  Engine engine;
  double flywheel_inertia = 0;  // [kg m^2]
  Plate plate;
  Gearbox gearbox;
  std::optional<Shaft> shaft;          // without shaft or propeller only neutral can be answered
  std::optional<Propeller> propeller;
  MassElasticTable table;              // empty where the parts say all
};

enum class Gear { ahead, neutral, astern };
enum class LoadCase { under_way, tied_up, none, torque };
enum class Fuelling { governed, fixed };

struct Condition {
  double speed = 0;                // [rad/s] mean crank speed
  Gear gear = Gear::ahead;
  std::vector<double> strengths;   // [-] 0..1 by cylinder number; empty: all healthy
  LoadCase load = LoadCase::under_way;
  double load_torque = 0;          // [N m] propeller torque at the gearbox input at `speed`, for LoadCase::torque
  Fuelling fuelling = Fuelling::governed;  // governed keeps the speed, fixed keeps the healthy engine's fuelling
};

}  // namespace calmshaft
