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

// Divisible by the even firing intervals of 2 to 10 cylinders but 7, and by one another's small factors.
constexpr std::array step_ladder{720, 1008, 1440, 2016, 2880, 4032, 5760, 8064, 11520, 16128, 23040};

// RK4 with this angle of the highest mode a step holds 0.5 % of the peak to peak mesh torque;
// see benchmarks/steps.
constexpr double largest_phase_step = 0.6;  // [rad]

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

double stiffest_stage(const StagedDamper& damper) {
  double stiffest = 0.0;
  for (const double side : {+1.0, -1.0}) {
    double slope = 0.0;
    for (const Ramp& ramp : damper.ramps)
      if (ramp.side == side) stiffest = std::max(stiffest, slope += ramp.slope);
  }
  return stiffest;
}

}  // namespace

PreparedLine::PreparedLine(const Line& line) : line_(checked(line)), cycles_(line_.engine) {}

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

LinearSystem ConditionModel::linearised() const {
  LinearAssembler assembler(model.stations);
  assembler.add_inertia(0, mean_crank_inertia);
  for (int i = 1; i < model.stations; ++i) assembler.add_inertia(i, model.inertia[static_cast<std::size_t>(i)]);
  std::size_t coupling = 0;
  const auto join = [&](int from, int to, double ratio) {
    assembler.add_spring(from, to, ratio, mean.coupling_stiffness[coupling], mean.coupling_damping[coupling]);
    ++coupling;
  };
  for (const LinearSpring& spring : model.springs) join(spring.from, spring.to, 1.0);
  for (const StagedDamper& damper : model.dampers) join(damper.from, damper.to, 1.0);
  for (const GearMesh& mesh : model.meshes) join(mesh.from, mesh.to, mesh.ratio);
  for (const SquareLoad& load : model.square_loads) {
    const double speed = std::fabs(model.speed_ratio[static_cast<std::size_t>(load.station)] * condition.speed);
    assembler.add_ground(load.station, 0.0, (2.0 + load.extra_damping) * load.coefficient * speed);
  }
  const FrictionTorque& friction = model.engine_friction;
  assembler.add_ground(0, 0.0, friction.per_speed + 2.0 * friction.per_speed_squared * condition.speed);
  return assembler.system();
}

double ConditionModel::highest_frequency() const {
  LinearAssembler assembler(model.stations);
  assembler.add_inertia(0, mean_crank_inertia);
  for (int i = 1; i < model.stations; ++i) assembler.add_inertia(i, model.inertia[static_cast<std::size_t>(i)]);
  for (const LinearSpring& spring : model.springs)
    assembler.add_spring(spring.from, spring.to, 1.0, spring.stiffness, 0);
  for (const StagedDamper& damper : model.dampers) {
    const double slider = damper.friction_torque / damper.presliding_angle;
    const double stiffest = stiffest_stage(damper) + slider + damper.stop.stiffness;
    assembler.add_spring(damper.from, damper.to, 1.0, stiffest, 0);
  }
  for (const GearMesh& mesh : model.meshes)
    assembler.add_spring(mesh.from, mesh.to, mesh.ratio, mesh.contact.stiffness, 0);
  return modes(assembler.system()).angular_frequency.maxCoeff();
}

int ConditionModel::steps_per_cycle() const {
  const double cycle_time = cycle_angle / condition.speed;
  const double needed = highest_frequency() * cycle_time / largest_phase_step;
  const auto rung = std::lower_bound(step_ladder.begin(), step_ladder.end(), needed);
  return rung == step_ladder.end() ? 0 : *rung;
}

}  // namespace calmshaft
