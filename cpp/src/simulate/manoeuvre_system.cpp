#include "calmshaft/simulate/manoeuvre_system.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace calmshaft {
namespace {

// The mean that the propeller's extra damping is about follows its speed by this lag: slower than any vibration
// that it damps, quicker than a manoeuvre. A choice of ours.
constexpr double slow_lag = 0.1;  // [s]

// Stalled torque of a starter over what it gives at cranking speed, and over the greatest torque of the compression,
// which it must get over (common practice, no source).
constexpr double over_hold = 3.0, over_compression = 1.2;  // [-]

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

std::size_t at(int index) { return static_cast<std::size_t>(index); }

std::vector<double> rising(std::vector<double> angles) {
  std::sort(angles.begin(), angles.end());
  angles.erase(std::unique(angles.begin(), angles.end(), [](double a, double b) { return b - a < 1e-6; }),
               angles.end());
  return angles;
}

double stiffest_part(const Model& model) {
  double stiffest = 1.0;
  for (int i = 0; i < model.springs; ++i) stiffest = std::max(stiffest, model.spring[i].stiffness);
  for (int i = 0; i < model.dampers; ++i)
    stiffest = std::max({stiffest, model.damper[i].stop.stiffness, model.damper[i].slider_stiffness});
  for (int i = 0; i < model.meshes; ++i) stiffest = std::max(stiffest, model.mesh[i].contact.stiffness);
  return stiffest;
}

}  // namespace

ManoeuvreSystem::ManoeuvreSystem(const ManoeuvreLine& line, const Schedule& schedule, const Governor& governor)
    : line_(line),
      schedule_(schedule),
      governor_(governor),
      model_(line.model),
      rated_speed_(line.start.prepared.line().engine.rated_speed),
      cranking_speed_(line.start.condition.speed),
      firing_angles_(rising(line.start.prepared.line().engine.firing_angles)) {
  governor_.follows_speed = line.start.condition.fuelling == Fuelling::governed;
  slip_ended_.fill(nan);
}

void ManoeuvreSystem::enter(double from, double to) {
  speed_ = piece_of(schedule_.speed, line_.start.condition.speed, from, to);
  load_ = piece_of(schedule_.load, 1.0, from, to);
  fuel_ = piece_of(schedule_.fuel, 1.0, from, to);
  starter_ = piece_of(schedule_.starter, 0.0, from, to);
  fault_ = piece_of(schedule_.fault, 0.0, from, to);
  release_ = piece_of(schedule_.release, 0.0, from, to);
  engage_ = piece_of(schedule_.engage, 0.0, from, to);
}

std::vector<double> ManoeuvreSystem::start(double time) {
  const double fuelling = wanted_fuelling(governor_, line_.balance, speed_, rated_speed_, time, speed_.at(time));
  const StartState begin = line_.start_state(fuelling, !fuel_on(time));
  std::vector<double> state(at(size()), 0.0);
  std::copy_n(begin.state.begin(), 2 * model_.stations, state.begin());
  state[at(governor_slot())] = fuelling;
  delivered_ = fuel_on(time) ? fuelling : 0.0;
  if (model_.square_loads > 0) state[at(propeller_slot())] = state[at(model_.stations + model_.square_load_station(0))];
  std::copy(std::begin(begin.friction), std::end(begin.friction), std::begin(work_.friction));
  for (std::size_t i = 0; i < line_.clutches.size(); ++i) {
    const ClutchedPair& pair = line_.clutches[i];
    const double whole = whole_twist(pair, state.data());
    clutch_[i] = {limited(whole, -clutch_reach(model_.mesh[pair.mesh], capacity(pair, time)),
                          clutch_reach(model_.mesh[pair.mesh], capacity(pair, time))),
                  whole};
  }
  next_ = firing_angles_.front() > 0 ? 0 : 1 % firing_angles_.size();
  turned_ = firing_angles_.size() == 1 && firing_angles_.front() <= 0 ? line_.tables.cycle : 0.0;
  time_before_ = fired_at_ = time;
  return state;
}

std::vector<double> ManoeuvreSystem::tolerances(double torque) const {
  const double angle = torque / stiffest_part(model_);
  std::vector<double> allowed(at(size()), std::numeric_limits<double>::infinity());
  allowed[0] = 1e-6;
  for (int i = 1; i < model_.stations; ++i) allowed[at(i)] = angle;
  for (int i = 0; i < model_.stations; ++i) allowed[at(model_.stations + i)] = angle * line_.highest_frequency;
  allowed[at(governor_slot())] = 1e-5;
  return allowed;
}

double ManoeuvreSystem::whole_twist(const ClutchedPair& pair, const double* state) const {
  const Ends ends = model_.mesh_ends(pair.mesh);
  return angle_of(ends.from, state) - model_.mesh[pair.mesh].ratio * state[ends.to] + pair.drift * state[0];
}

double ManoeuvreSystem::mesh_torque(int mesh, const double* state, Workspace<double>& work, double time,
                                    double* rate) const {
  for (std::size_t i = 0; i < line_.clutches.size(); ++i) {
    const ClutchedPair& pair = line_.clutches[i];
    if (pair.mesh != mesh) continue;
    const int index = model_.first_mesh() + mesh;
    const ClutchTorque now = clutch_torque(model_.mesh[mesh], clutch_[i], capacity(pair, time),
                                           whole_twist(pair, state), work.coupling_rate[index]);
    work.coupling_twist[index] = now.tooth_twist;
    rate[clutch_heat_slot(static_cast<int>(i))] = now.heat;
    return now.torque;
  }
  return GearedMesh{}(model_, mesh, work);
}

// A straight line as series motors roughly have, through the mean torque at cranking speed, by a one-way drive:
// T = stall - (stall - hold) w / w_cranking >= 0
double ManoeuvreSystem::starter_torque(double time, double crank_speed) const {
  const double hold = line_.balance.motoring_torque(cranking_speed_);
  const double stall = larger(over_hold * hold, over_compression * line_.balance.compression_torque());
  return starter_.at(time) * limited(stall - (stall - hold) * crank_speed / cranking_speed_, 0.0, stall);
}

void ManoeuvreSystem::set_load(double time, const double* state) {
  for (int i = 0; i < model_.square_loads; ++i)
    model_.square_load[i].coefficient = line_.model.square_load[i].coefficient * load_.at(time);
  if (model_.square_loads > 0)
    work_.mean_crank_speed = state[propeller_slot()] / model_.speed_ratio[model_.square_load_station(0)];
}

void ManoeuvreSystem::derivative(double time, const double* state, double* rate) {
  const double crank_speed = state[model_.stations];
  set_load(time, state);
  CrankDrive<double> drive = line_.curve.at(state[0], delivered_, fault_.at(time));
  const double starter = starter_torque(time, crank_speed);
  drive.gas_torque += starter;
  derivative_in_time(model_, drive, state, work_, rate,
                     [&](const Model&, int mesh, Workspace<double>& work) {
                       return mesh_torque(mesh, state, work, time, rate);
                     });
  const int governor = governor_slot();
  const double wanted = wanted_fuelling(governor_, line_.balance, speed_, rated_speed_, time, crank_speed);
  rate[governor] = (wanted - state[governor]) / governor_.lag;
  rate[governor + 1] = state[governor];
  rate[propeller_slot()] = 0.0;
  if (model_.square_loads > 0)
    rate[propeller_slot()] =
        (state[model_.stations + model_.square_load_station(0)] - state[propeller_slot()]) / slow_lag;
  rate[starter_slot()] = starter * crank_speed;
}

void ManoeuvreSystem::after_step(double time, const double* state) {
  remember_friction(model_, state, work_);
  for (std::size_t i = 0; i < line_.clutches.size(); ++i) {
    const ClutchedPair& pair = line_.clutches[i];
    const double whole = whole_twist(pair, state);
    const double reach = clutch_reach(model_.mesh[pair.mesh], capacity(pair, time));
    slips_[i] = magnitude(held_twist(clutch_[i], whole)) > reach;
    if (slips_[i] && capacity(pair, time) > 0) slip_ended_[i] = time;
    clutch_[i] = {tooth_twist(clutch_[i], reach, whole), whole};
  }
  take_firings(time, state);
}

// A cylinder gets, for its whole cycle, the mean that the governor wanted since the one before it fired.
void ManoeuvreSystem::take_firings(double time, const double* state) {
  const double sum = state[governor_slot() + 1];
  while (state[0] >= turned_ + firing_angles_[next_]) {
    const double share =
        limited((turned_ + firing_angles_[next_] - angle_before_) / (state[0] - angle_before_), 0.0, 1.0);
    const double fires_at = time_before_ + share * (time - time_before_);
    const double sum_then = sum_before_ + share * (sum - sum_before_);
    if (fires_at > fired_at_) delivered_ = fuel_.at(fires_at) * (sum_then - sum_at_firing_) / (fires_at - fired_at_);
    fired_at_ = fires_at;
    sum_at_firing_ = sum_then;
    firings_.push_back(fires_at);
    if (++next_ == firing_angles_.size()) next_ = 0, turned_ += line_.tables.cycle;
  }
  time_before_ = time, angle_before_ = state[0], sum_before_ = sum;
}

double ManoeuvreSystem::kinetic(const double* state) const {
  return kinetic_energy(model_, line_.curve.at(state[0], 0.0).inertia, state);
}

double ManoeuvreSystem::coupling(int index, const double* state) const {
  for (std::size_t i = 0; i < line_.clutches.size(); ++i) {
    const int mesh = line_.clutches[i].mesh;
    if (model_.first_mesh() + mesh == index) return mesh_energy(model_.mesh[mesh], clutch_[i].tooth_twist);
  }
  return coupling_energy(model_, index, state, work_);
}

}  // namespace calmshaft
