// A line made ready for one condition: the mass-elastic system, its compiled model, the steps it needs.
#pragma once

#include <memory>

#include "calmshaft/engine/engine_tables.hpp"
#include "calmshaft/line/line.hpp"
#include "calmshaft/model/model.hpp"
#include "calmshaft/model/statics.hpp"
#include "calmshaft/simulate/method.hpp"
#include "calmshaft/solve/linear_line.hpp"

namespace calmshaft {

// What depends on the line alone; shared by all its conditions and threads.
class PreparedLine {
 public:
  // Throws LineError with every fault of the line.
  explicit PreparedLine(const Line& line);
  // The same; where `like` has the same engine, its cycles and their tables serve both: they take longer than the rest.
  PreparedLine(const Line& line, const PreparedLine& like);
  const Line& line() const { return line_; }
  const EngineCycles& cycles() const { return cycles_; }

 private:
  Line line_;
  EngineCycles cycles_;
};

// What depends on the condition too. Throws LineError where the condition does not fit the line.
struct ConditionModel {
  ConditionModel(const PreparedLine& prepared, const Condition& condition);

  const PreparedLine& prepared;
  Condition condition;
  MassElastic system;
  Model model;
  MeanState mean;             // at the condition's speed
  double mean_crank_inertia;  // [kg m^2] with flywheel
  double cycle_angle;         // [rad] 4 pi or 2 pi

  // Stiffness, damping and inertia at the mean torque, contacts closed; joints in the order of the couplings.
  LinearLine linear_line() const;
  LinearSystem linearised() const { return linear_system(linear_line()); }
  // Highest natural frequency with contacts and stops closed [rad/s].
  double highest_frequency() const;
  // Fastest decay that the contacts' damping makes at the mean torques [1/s].
  double fastest_decay() const;
  // From a fixed ladder, by highest mode, contact damping and speed alone; 0: none is fine enough.
  int steps_per_cycle(StepLimits limits = step_limits()) const;
  EngineTables tables(int nodes) const { return prepared.cycles().tables(condition.strengths, nodes); }
};

// The least rung of the ladder for the highest mode [rad/s], the fastest decay [1/s] and a cycle's time [s]; 0: none.
int ladder_steps(double frequency, double decay, double cycle_time, StepLimits limits = step_limits());

}  // namespace calmshaft
