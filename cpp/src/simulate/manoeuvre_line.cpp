#include "calmshaft/simulate/manoeuvre_line.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/model/assemble.hpp"

namespace calmshaft {
namespace {

constexpr int table_nodes = 5760;

Condition in_gear(Condition condition, Gear gear) {
  condition.gear = gear;
  return condition;
}

Condition driven(const PreparedLine& line, const Condition& condition, const Schedule& schedule) {
  check_schedule(line.line(), condition, schedule);
  return condition.gear == Gear::neutral && schedule.engages ? in_gear(condition, *schedule.engages) : condition;
}

std::vector<std::string> coupling_names(const MassElastic& system) {
  std::vector<std::string> names;
  for (const std::size_t kind : {0U, 1U, 2U})
    for (const Coupling& coupling : system.couplings)
      if (coupling.index() == kind) names.push_back(std::visit([](const auto& one) { return one.name; }, coupling));
  return names;
}

int loaded_mesh(const Model& model) {
  for (int i = 0; i < model.meshes; ++i)
    if (model.mesh[i].loaded) return i;
  return -1;
}

// The pair of the other gear, between the same two stations.
Model::Mesh second_pair(const PreparedLine& line, const Condition& engaged) {
  const Model other = compile(assemble(line.line(), engaged), {});
  return other.mesh[loaded_mesh(other)];
}

ClutchedPair clutched(const Model& model, int mesh, bool releases) {
  const Ends ends = model.mesh_ends(mesh);
  return {mesh, model.speed_ratio[ends.from] - model.mesh[mesh].ratio * model.speed_ratio[ends.to], releases};
}

// Stations that only turn when the loaded pair drives them.
std::array<bool, most_stations> behind_mesh(const Model& model) {
  std::array<bool, most_stations> behind{};
  behind[static_cast<std::size_t>(model.mesh_ends(loaded_mesh(model)).to)] = true;
  for (int i = 0; i < model.springs; ++i)
    if (behind[static_cast<std::size_t>(model.spring_ends(i).from)])
      behind[static_cast<std::size_t>(model.spring_ends(i).to)] = true;
  return behind;
}

}  // namespace

ManoeuvreLine::ManoeuvreLine(const PreparedLine& line, const Condition& condition, const Schedule& schedule)
    : start(line, condition),
      drive(line, driven(line, condition, schedule)),
      model(drive.model),
      couplings(coupling_names(drive.system)),
      tables(line.cycles().tables(condition.strengths, table_nodes)),
      curve(tables, line.cycles().tables(schedule.faulty_strengths, table_nodes).fuelled_torque),
      balance(start, condition.fuelling == Fuelling::fixed ? line.cycles().tables({}, table_nodes) : tables),
      highest_frequency(drive.highest_frequency()) {
  for (const Station& station : drive.system.stations) stations.push_back(station.name);
  if (!schedule.engages) return;
  const int first = loaded_mesh(model);
  if (condition.gear == Gear::neutral) {
    clutches = {clutched(model, first, false)};
    return;
  }
  if (model.couplings() >= most_couplings)
    throw SolveError("there is no room for the second gear: use fewer shaft divisions or unloaded pairs");
  model.mesh_joint[model.meshes] = model.mesh_ends(first);
  model.mesh[model.meshes++] = second_pair(line, in_gear(condition, *schedule.engages));
  couplings.emplace_back(*schedule.engages == Gear::astern ? "astern mesh" : "ahead mesh");
  clutches = {clutched(model, first, true), clutched(model, model.meshes - 1, false)};
  highest_frequency *= std::sqrt(2.0);  // both pairs closed at once hold the input twice as stiffly
}

StartState ManoeuvreLine::start_state(double fuelling, bool still) const {
  StartState state{};
  const StartState vibrating = still ? StartState{} : linear_start(start, tables, fuelling);
  const bool shaft_rests = start.model.stations != model.stations || start.condition.gear != drive.condition.gear;
  const auto behind = shaft_rests ? behind_mesh(model) : std::array<bool, most_stations>{};
  for (int i = 0; i < model.stations; ++i) {
    const auto slot = static_cast<std::size_t>(i), speed_slot = static_cast<std::size_t>(model.stations + i);
    state.state[speed_slot] = behind[slot] ? 0.0 : model.speed_ratio[i] * start.condition.speed;
    if (still) continue;
    const auto& known = start.system.stations;
    const auto same =
        std::find_if(known.begin(), known.end(), [&](const Station& s) { return s.name == stations[slot]; });
    if (same == known.end()) continue;
    const auto other = static_cast<std::size_t>(same - known.begin());
    state.state[slot] = vibrating.state[other];
    state.state[speed_slot] = vibrating.state[static_cast<std::size_t>(start.model.stations) + other];
  }
  std::copy(std::begin(vibrating.friction), std::end(vibrating.friction), std::begin(state.friction));
  return state;
}

}  // namespace calmshaft
