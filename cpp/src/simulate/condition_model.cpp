#include "calmshaft/simulate/condition_model.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/core/errors.hpp"
#include "calmshaft/core/number.hpp"
#include "calmshaft/engine/friction.hpp"
#include "calmshaft/line/check.hpp"
#include "calmshaft/model/assemble.hpp"
#include "calmshaft/solve/modes.hpp"

namespace calmshaft {
namespace {

// Rungs a fifth apart, each a multiple of 336 or 360 for the bins of orders.
constexpr std::array step_ladder{720,  1008, 1440, 1680, 2016,  2352,  2880,  3360,  4032, 4704,
                                 5760, 6720, 8064, 9360, 11520, 13440, 16128, 18816, 23040};

template <class Check>
void throw_faults(std::vector<Fault> found, const Check& is_fault) {
  std::erase_if(found, [&](const Fault& fault) { return !is_fault(fault); });
  if (!found.empty()) throw LineError(std::move(found));
}

bool not_a_warning(const Fault& fault) { return !fault.warning; }

const Line& checked(const Line& line) {
  throw_faults(check(line), not_a_warning);
  return line;
}

MassElastic assemble_checked(const Line& line, const Condition& condition) {
  throw_faults(check(line, condition), not_a_warning);
  return assemble(line, condition);
}

double stiffest_stage(const Model::Damper& damper) {
  double stiffest = 0.0;
  for (const double side : {+1.0, -1.0}) {
    double slope = 0.0;
    for (int i = 0; i < damper.ramps; ++i)
      if (damper.ramp[i].side == side) stiffest = std::max(stiffest, slope += damper.ramp[i].slope);
  }
  return stiffest;
}

// Inertias and couplings; `stiffness_of` and `damping_of` take the coupling's number.
template <class Stiffness, class Damping>
LinearLine joined(const Model& model, double crank_inertia, const Stiffness& stiffness_of, const Damping& damping_of) {
  LinearLine line(static_cast<std::size_t>(model.stations));
  std::copy_n(model.inertia, model.stations, line.inertia.begin());
  line.inertia[0] = crank_inertia;
  int coupling = 0;
  const auto join = [&](Ends ends, double ratio) {
    line.joints.push_back({ends.from, ends.to, ratio, stiffness_of(coupling), damping_of(coupling), false});
    ++coupling;
  };
  for (int i = 0; i < model.springs; ++i) join(model.spring_ends(i), 1.0);
  for (int i = 0; i < model.dampers; ++i) join(model.damper_ends(i), 1.0);
  for (int i = 0; i < model.meshes; ++i) join(model.mesh_ends(i), model.mesh[i].ratio);
  return line;
}

}  // namespace

PreparedLine::PreparedLine(const Line& line) : line_(checked(line)), cycles_(line_.engine) {}

PreparedLine::PreparedLine(const Line& line, const PreparedLine& like)
    : line_(checked(line)),
      cycles_(line_.engine == like.line_.engine ? like.cycles_ : EngineCycles(line_.engine)) {}

ConditionModel::ConditionModel(const PreparedLine& line, const Condition& at)
    : prepared(line),
      condition(at),
      system(assemble_checked(line.line(), at)),
      model(compile(system, friction_torque(line.line().engine))),
      mean(mean_state(model, at.speed)),
      mean_crank_inertia(0),
      cycle_angle(line.line().engine.strokes == 4 ? 2 * two_pi : two_pi) {
  mean_crank_inertia = model.inertia[0] + mean_of(line.cycles().tables(at.strengths, step_ladder.front()).inertia);
}

LinearLine ConditionModel::linear_line() const {
  const auto stiffness = [this](int coupling) { return mean.coupling_stiffness[static_cast<std::size_t>(coupling)]; };
  const auto damping = [this](int coupling) { return mean.coupling_damping[static_cast<std::size_t>(coupling)]; };
  LinearLine line = joined(model, mean_crank_inertia, stiffness, damping);
  for (int i = 0; i < model.square_loads; ++i) {
    const auto& load = model.square_load[i];
    const int station = model.square_load_station(i);
    const double speed = std::fabs(model.speed_ratio[station] * condition.speed);
    line.ground_damping[static_cast<std::size_t>(station)] += (2.0 + load.extra_damping) * load.coefficient * speed;
  }
  line.ground_damping[0] += model.friction_per_speed + 2.0 * model.friction_per_speed_squared * condition.speed;
  return line;
}

double ConditionModel::highest_frequency() const {
  const auto stiffness = [this](int coupling) {
    if (coupling < model.first_damper()) return model.spring[coupling].stiffness;
    if (coupling >= model.first_mesh()) return model.mesh[coupling - model.first_mesh()].contact.stiffness;
    const auto& damper = model.damper[coupling - model.first_damper()];
    return stiffest_stage(damper) + damper.slider_stiffness + damper.stop.stiffness;
  };
  const auto damping = [](int) { return 0.0; };
  return modes(linear_system(joined(model, mean_crank_inertia, stiffness, damping))).angular_frequency.maxCoeff();
}

// Contact damping at torque T is chi T against the reduced inertia of its two stations.
double ConditionModel::fastest_decay() const {
  double fastest = 0.0;
  for (int i = 0; i < model.meshes; ++i) {
    const auto& mesh = model.mesh[i];
    const Ends ends = model.mesh_ends(i);
    const double from = ends.from == 0 ? mean_crank_inertia : model.inertia[ends.from];
    const double looseness = 1.0 / from + mesh.ratio * mesh.ratio / model.inertia[ends.to];
    const auto coupling = static_cast<std::size_t>(model.first_mesh() + i);
    fastest = std::max(fastest, mean.coupling_damping[coupling] * looseness);
  }
  return fastest;
}

int ConditionModel::steps_per_cycle(StepLimits limits) const {
  return ladder_steps(highest_frequency(), fastest_decay(), cycle_angle / condition.speed, limits);
}

int ladder_steps(double frequency, double decay, double cycle_time, StepLimits limits) {
  const double needed = cycle_time * std::max(frequency / limits.phase, decay / limits.decay);
  const auto rung = std::lower_bound(step_ladder.begin(), step_ladder.end(), needed);
  return rung == step_ladder.end() ? 0 : *rung;
}

}  // namespace calmshaft
