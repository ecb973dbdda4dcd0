// Runs a model through whole engine cycles in crank-angle form and keeps what the measures need.
#pragma once

#include <vector>

#include "calmshaft/engine/engine_tables.hpp"
#include "calmshaft/model/dynamics.hpp"
#include "calmshaft/model/energy.hpp"
#include "calmshaft/solve/time_stepping.hpp"

namespace calmshaft {

// What happened at every node of one or more cycles, both ends included.
struct CycleRecord {
  double step = 0;                          // [rad] crank angle between nodes
  std::vector<double> time;                 // [s]
  std::vector<std::vector<double>> speed;   // [rad/s] (station, node); only the crank's unless all are kept
  std::vector<std::vector<double>> twist;   // [rad] (coupling, node)
  std::vector<std::vector<double>> torque;  // [N m] (coupling, node)
  std::vector<double> work;                 // [J] over the record, in the order of the state's work slots
  std::vector<double> dissipated;           // [J] by coupling: work on it less what it stores more at the end
  double momentum_change = 0;               // [N m s] of the whole line, referred to the crank
  EnergyAudit audit;

  double duration() const { return time.back(); }
  std::size_t nodes() const { return time.size(); }
};

enum class CycleEnd { complete, stalled, not_finite };

class CycleRunner final : private System {
 public:
  // `tables` must have two nodes a step. With `keep_all_speeds` every station's speed is recorded.
  CycleRunner(const Model& model, const EngineTables& tables, bool keep_all_speeds);

  // Runs on from the present state; the clock and the work start at zero.
  CycleEnd run(int cycles, CycleRecord& record);

  double fuelling = 0;             // [-] 1 gives rated torque at rated speed
  std::vector<double> state;       // see Model
  Workspace<double> work;
  double least_crank_speed = 0;    // [rad/s] below it the engine counts as stalled

  int steps_per_cycle() const { return tables_.nodes / 2; }
  double cycle_angle() const { return tables_.cycle; }
  // Adds to the speed of every station as the crank's speed changes by `change` [rad/s].
  void change_speed(double change);

 private:
  int size() const override { return model_.state_size(); }
  void derivative(double at, const double* x, double* rate) override;
  void after_step(double at, const double* x) override;
  double momentum() const;
  void keep(std::size_t node, CycleRecord& record);
  void prepare(int cycles, CycleRecord& record) const;
  CycleEnd step_through(int cycles, CycleRecord& record);

  const Model& model_;
  const EngineTables& tables_;
  bool keep_all_speeds_;
  double nodes_per_radian_;
  FixedStepper stepper_;
  std::vector<double> rate_;
};

}  // namespace calmshaft
