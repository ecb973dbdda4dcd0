#include "calmshaft/model/assemble.hpp"

#include <algorithm>
#include <cmath>

namespace calmshaft {
namespace {

// Slopes of the stages as changes of slope at their corners, the first corner at half the free play.
void append_ramps(const PlateSide& side, double sign, double free_play, std::vector<Ramp>& ramps) {
  double corner = 0.5 * free_play;
  double slope = 0.0;
  for (const PlateStage& stage : side.stages) {
    ramps.push_back({sign, corner, stage.stiffness - slope});
    slope = stage.stiffness;
    corner = stage.until;
  }
}

StagedDamper damper_of(const Plate& plate, int from, int to) {
  // The stop is hit at the speed of its own small bounce; the same reference speed as the gears' serves.
  const double reference_speed = 0.5;  // [rad/s]
  StagedDamper damper{"plate", from, to, {}, plate.viscous_damping, 0.5 * plate.hysteresis_full_width,
                      plate.presliding_angle, plate.drive.stop_angle, plate.coast.stop_angle,
                      {plate.stop_stiffness, damping_factor(plate.stop_restitution, reference_speed)}};
  append_ramps(plate.drive, +1.0, plate.free_play, damper.ramps);
  append_ramps(plate.coast, -1.0, plate.free_play, damper.ramps);
  return damper;
}

GearMesh mesh_of(const ToothContact& tooth, std::string name, int from, int to, double ratio, bool loaded) {
  return {std::move(name), from, to, ratio, 0.5 * tooth.backlash,
          {tooth.stiffness, damping_factor(tooth.restitution, tooth.restitution_speed)}, loaded};
}

bool turns_along(const UnloadedPair& pair, Gear gear) {
  if (gear == Gear::ahead) return pair.turns_in_ahead;
  return gear == Gear::astern ? pair.turns_in_astern : pair.turns_in_neutral;
}

double drags_ahead(const Gearbox& box) {
  double drag = box.input_drag;
  for (const UnloadedPair& pair : box.unloaded)
    if (pair.turns_in_ahead) drag += pair.drag;
  return drag;
}

// k of k w |w| at the propeller, so that the input carries `absorbs_torque`, drags included, at `absorbs_speed`.
double propeller_coefficient(const Line& line, const Condition& at) {
  const Propeller& propeller = *line.propeller;
  const auto through_input = [](double torque, double crank_speed, double ratio) {
    return torque * ratio * ratio * ratio / (crank_speed * crank_speed);
  };
  const LoadedPair& calibrated = line.gearbox.ahead ? *line.gearbox.ahead : *line.gearbox.astern;
  const double free_running = through_input(std::max(0.0, propeller.absorbs_torque - drags_ahead(line.gearbox)),
                                            propeller.absorbs_speed, calibrated.ratio);
  switch (at.load) {
    case LoadCase::none: return 0.0;
    case LoadCase::tied_up: return free_running * propeller.tied_up_factor;
    case LoadCase::torque: {
      const LoadedPair& engaged = at.gear == Gear::astern ? *line.gearbox.astern : calibrated;
      return through_input(at.load_torque, at.speed, engaged.ratio);
    }
    case LoadCase::under_way: break;
  }
  return free_running;
}

struct Builder {
  MassElastic system;

  int add(std::string name, double inertia, double speed_ratio) {
    system.stations.push_back({std::move(name), inertia, speed_ratio});
    return static_cast<int>(system.stations.size()) - 1;
  }

  int add_engine_side(const Line& line) {
    const double behind = line.plate.hub_inertia + line.gearbox.input_inertia;
    if (line.plate.rigid) return add("crank, flywheel and gearbox input", line.flywheel_inertia + behind, 1.0);
    const int crank = add("crank and flywheel", line.flywheel_inertia, 1.0);
    const int input = add("gearbox input", behind, 1.0);
    system.couplings.emplace_back(damper_of(line.plate, crank, input));
    return input;
  }

  // The shaft as `divisions` equal springs, half of each piece's inertia at either end.
  // Damping: 2 zeta sqrt(k J), J the two ends' inertias swinging against each other.
  int add_shaft(const Shaft& shaft, int output, double propeller_inertia, double speed_ratio) {
    const double piece_inertia = shaft.inertia / shaft.divisions;
    const double end = system.stations[static_cast<std::size_t>(output)].inertia + 0.5 * shaft.inertia;
    const double far_end = propeller_inertia + 0.5 * shaft.inertia;
    const double reduced = end * far_end / (end + far_end);
    const double damping = 2.0 * shaft.damping_ratio * std::sqrt(shaft.stiffness * reduced) * shaft.divisions;
    system.stations[static_cast<std::size_t>(output)].inertia += 0.5 * piece_inertia;
    int from = output;
    for (int piece = 1; piece <= shaft.divisions; ++piece) {
      const bool last = piece == shaft.divisions;
      const std::string number = shaft.divisions > 1 ? " " + std::to_string(piece) : "";
      const int to = last ? add("propeller", propeller_inertia + 0.5 * piece_inertia, speed_ratio)
                          : add("shaft" + number, piece_inertia, speed_ratio);
      system.couplings.emplace_back(
          LinearSpring{"shaft" + number, from, to, shaft.stiffness * shaft.divisions, damping});
      from = to;
    }
    return from;
  }

  void add_drive(const Line& line, const Condition& at, int input) {
    const bool astern = at.gear == Gear::astern;
    const LoadedPair& pair = astern ? *line.gearbox.astern : *line.gearbox.ahead;
    const double ratio = astern ? -pair.ratio : pair.ratio;
    const int output = add("gearbox output", pair.output_inertia, 1.0 / ratio);
    system.couplings.emplace_back(mesh_of(pair.contact, "loaded mesh", input, output, ratio, true));
    const double wet = line.propeller->inertia + line.propeller->water_inertia;
    const int propeller = add_shaft(*line.shaft, output, wet, 1.0 / ratio);
    system.loads.emplace_back(
        SquareLoad{"propeller", propeller, propeller_coefficient(line, at), line.propeller->extra_damping});
  }

  void add_unloaded(const Gearbox& box, Gear gear, int input) {
    for (const UnloadedPair& pair : box.unloaded) {
      if (!turns_along(pair, gear)) continue;
      const int free_gear = add(pair.name, pair.inertia, 1.0);
      system.couplings.emplace_back(mesh_of(pair.contact, pair.name, input, free_gear, 1.0, false));
      system.loads.emplace_back(Drag{pair.name + " drag", free_gear, pair.drag});
    }
  }
};

}  // namespace

MassElastic assemble(const Line& line, const Condition& condition) {
  Builder builder;
  const int input = builder.add_engine_side(line);
  builder.system.loads.emplace_back(Drag{"input drag", input, line.gearbox.input_drag});
  if (condition.gear != Gear::neutral) builder.add_drive(line, condition, input);
  builder.add_unloaded(line.gearbox, condition.gear, input);
  return std::move(builder.system);
}

}  // namespace calmshaft
