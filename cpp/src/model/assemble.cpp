#include "calmshaft/model/assemble.hpp"

#include <algorithm>
#include <array>
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
  StagedDamper damper{"plate",
                      from,
                      to,
                      {},
                      plate.viscous_damping,
                      0.5 * plate.hysteresis_full_width,
                      plate.presliding_angle,
                      plate.drive.stop_angle,
                      plate.coast.stop_angle,
                      {plate.stop_stiffness, damping_factor(plate.stop_restitution, reference_speed)}};
  append_ramps(plate.drive, +1.0, plate.free_play, damper.ramps);
  append_ramps(plate.coast, -1.0, plate.free_play, damper.ramps);
  return damper;
}

GearMesh mesh_of(const ToothContact& tooth, std::string name, int from, int to, double ratio, bool loaded) {
  return {std::move(name),
          from,
          to,
          ratio,
          0.5 * tooth.backlash,
          {tooth.stiffness, damping_factor(tooth.restitution, tooth.restitution_speed)},
          loaded};
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
  const auto ratio_of = [&](Gear gear) {
    const auto& pair = gear == Gear::astern ? line.gearbox.astern : line.gearbox.ahead;
    return pair ? pair->ratio
                : 1.0 / std::fabs(line.table.masses[static_cast<std::size_t>(line.table.row_of(PartStation::propeller))]
                                      .speed_ratio);
  };
  const double calibrated = ratio_of(line.gearbox.ahead || !line.gearbox.astern ? Gear::ahead : Gear::astern);
  const double free_running = through_input(std::max(0.0, propeller.absorbs_torque - drags_ahead(line.gearbox)),
                                            propeller.absorbs_speed, calibrated);
  switch (at.load) {
    case LoadCase::none:
      return 0.0;
    case LoadCase::tied_up:
      return free_running * propeller.tied_up_factor;
    case LoadCase::torque:
      return through_input(at.load_torque, at.speed, at.gear == Gear::astern ? ratio_of(at.gear) : calibrated);
    case LoadCase::under_way:
      break;
  }
  return free_running;
}

// Where a mass stands: rigid gears put it into the frame of another shaft, own angle = factor * the station's angle.
struct Place {
  int station = -1;
  double factor = 1;  // [-]
};

// Builds outwards from the crank, so that every station comes after the one that drives it. What a mass-elastic table
// hangs on a station follows as soon as the station stands.
class Builder {
 public:
  Builder(const Line& line, const Condition& condition)
      : line_(line), at_(condition), rows_(line.table.masses.size()) {}

  MassElastic build() {
    add_engine_side();
    const Place input = place(PartStation::gearbox_input);
    load(Drag{"input drag", input.station, line_.gearbox.input_drag * std::fabs(input.factor)});
    if (at_.gear != Gear::neutral) add_drive();
    add_unloaded(input.station);
    return std::move(system_);
  }

 private:
  int add(std::string name, double inertia, double speed_ratio) {
    system_.stations.push_back({std::move(name), inertia, speed_ratio});
    return static_cast<int>(system_.stations.size()) - 1;
  }

  Station& station(int index) { return system_.stations[static_cast<std::size_t>(index)]; }
  void load(Load one) { system_.loads.push_back(std::move(one)); }
  bool stands(PartStation part) const { return parts_[index(part)].station >= 0; }
  Place place(PartStation part) const { return parts_[index(part)]; }
  static std::size_t index(PartStation part) { return static_cast<std::size_t>(part); }

  // A station of the line is there; the table's branches on it grow.
  void stand(PartStation part, Place place) {
    parts_[index(part)] = place;
    if (const int row = line_.table.row_of(part); row >= 0) {
      rows_[static_cast<std::size_t>(row)] = place;
      grow(row);
    }
  }

  void grow(int row) {
    for (const TableConnection& c : line_.table.connections) {
      const int next = c.from == row ? c.to : c.to == row ? c.from : -1;
      if (next < 0 || rows_[static_cast<std::size_t>(next)].station >= 0) continue;
      const Place place = follow(row, next, c);
      rows_[static_cast<std::size_t>(next)] = place;
      if (const PartStation part = mass(next).part; part != PartStation::none) parts_[index(part)] = place;
      grow(next);
    }
  }

  const TableMass& mass(int row) const { return line_.table.masses[static_cast<std::size_t>(row)]; }

  // The next mass of a table: merged through a rigid gear pair or flange, or a station at the end of a spring. Both in
  // the frame of the station that stands: J f^2, k f^2, c f^2.
  Place follow(int row, int next, const TableConnection& c) {
    const Place from = rows_[static_cast<std::size_t>(row)];
    const double inertia = mass(next).part == PartStation::none ? mass(next).inertia : part_inertia(mass(next).part);
    if (std::isinf(c.stiffness)) {
      const Place merged{from.station, from.factor * mass(next).speed_ratio / mass(row).speed_ratio};
      station(merged.station).inertia += inertia * merged.factor * merged.factor;
      return merged;
    }
    return spring(from, mass(next).name, inertia, c.stiffness, c.damping, mass(row).name + " to " + mass(next).name);
  }

  Place spring(Place from, std::string name, double inertia, double stiffness, double damping,
               std::string spring_name) {
    const double square = from.factor * from.factor;
    const int to = add(std::move(name), inertia * square, station(from.station).speed_ratio);
    system_.couplings.emplace_back(
        LinearSpring{std::move(spring_name), from.station, to, stiffness * square, damping * square});
    return {to, from.factor};
  }

  double part_inertia(PartStation part) const {
    switch (part) {
      case PartStation::gearbox_input:
        return line_.plate.hub_inertia + line_.gearbox.input_inertia;
      case PartStation::gearbox_output:
        return engaged() ? engaged()->output_inertia : 0.0;
      case PartStation::propeller:
        return line_.propeller ? line_.propeller->inertia + line_.propeller->water_inertia : 0.0;
      default:
        return 0.0;
    }
  }

  std::string name_of(PartStation part, const char* usual) const {
    const int row = line_.table.row_of(part);
    return row < 0 ? usual : mass(row).name;
  }

  const std::optional<LoadedPair>& engaged() const {
    return at_.gear == Gear::astern ? line_.gearbox.astern : line_.gearbox.ahead;
  }

  void add_engine_side() {
    const double behind = part_inertia(PartStation::gearbox_input);
    if (line_.plate.rigid) {
      const int all = add("crank, flywheel and gearbox input", line_.flywheel_inertia + behind, 1.0);
      stand(PartStation::crank, {all});
      stand(PartStation::gearbox_input, {all});
      return;
    }
    const int crank = add("crank and flywheel", line_.flywheel_inertia, 1.0);
    stand(PartStation::crank, {crank});
    if (stands(PartStation::gearbox_input)) return;
    const int input = add(name_of(PartStation::gearbox_input, "gearbox input"), behind, 1.0);
    system_.couplings.emplace_back(damper_of(line_.plate, crank, input));
    stand(PartStation::gearbox_input, {input});
  }

  void add_drive() {
    if (!stands(PartStation::gearbox_output) && !stands(PartStation::propeller)) add_mesh();
    if (!stands(PartStation::propeller)) add_shaft(*line_.shaft, place(PartStation::gearbox_output));
    const Place end = place(PartStation::propeller);
    const double factor = std::fabs(end.factor);
    load(SquareLoad{"propeller", end.station, propeller_coefficient(line_, at_) * factor * factor * factor,
                    line_.propeller->extra_damping});
  }

  void add_mesh() {
    const int input = place(PartStation::gearbox_input).station;
    const double ratio = at_.gear == Gear::astern ? -engaged()->ratio : engaged()->ratio;
    const int output =
        add(name_of(PartStation::gearbox_output, "gearbox output"), engaged()->output_inertia, 1.0 / ratio);
    system_.couplings.emplace_back(mesh_of(engaged()->contact, "loaded mesh", input, output, ratio, true));
    stand(PartStation::gearbox_output, {output});
  }

  // The shaft as `divisions` equal springs, half of each piece's inertia at either end.
  // Damping: 2 zeta sqrt(k J), J the two ends' inertias swinging against each other.
  void add_shaft(const Shaft& shaft, Place from) {
    const double wet = part_inertia(PartStation::propeller), square = from.factor * from.factor;
    const double piece_inertia = shaft.inertia / shaft.divisions;
    const double end = station(from.station).inertia / square + 0.5 * shaft.inertia;
    const double far_end = wet + 0.5 * shaft.inertia;
    const double reduced = end * far_end / (end + far_end);
    const double damping = 2.0 * shaft.damping_ratio * std::sqrt(shaft.stiffness * reduced) * shaft.divisions;
    station(from.station).inertia += 0.5 * piece_inertia * square;
    for (int piece = 1; piece <= shaft.divisions; ++piece) {
      const bool last = piece == shaft.divisions;
      const std::string name = shaft.divisions > 1 ? "shaft " + std::to_string(piece) : "shaft";
      from = spring(from, last ? "propeller" : name, last ? wet + 0.5 * piece_inertia : piece_inertia,
                    shaft.stiffness * shaft.divisions, damping, name);
    }
    stand(PartStation::propeller, from);
  }

  void add_unloaded(int input) {
    for (const UnloadedPair& pair : line_.gearbox.unloaded) {
      if (!turns_along(pair, at_.gear)) continue;
      const int free_gear = add(pair.name, pair.inertia, 1.0);
      system_.couplings.emplace_back(mesh_of(pair.contact, pair.name, input, free_gear, 1.0, false));
      load(Drag{pair.name + " drag", free_gear, pair.drag});
    }
  }

  const Line& line_;
  const Condition& at_;
  MassElastic system_;
  std::array<Place, 5> parts_{};  // by PartStation
  std::vector<Place> rows_;       // by row of the table
};

}  // namespace

MassElastic assemble(const Line& line, const Condition& condition) { return Builder(line, condition).build(); }

}  // namespace calmshaft
