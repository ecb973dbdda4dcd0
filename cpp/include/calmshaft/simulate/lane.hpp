// One sweep point on its way to the steady state, in one lane of a pack.
#pragma once

#include <memory>

#include "calmshaft/simulate/cycle_job.hpp"
#include "calmshaft/simulate/lanes.hpp"

namespace calmshaft {

class Lane {
 public:
  Lane(int lane, CycleJob<Octet>& job, std::vector<CrankNode<Octet>>& crank, const SteadyOptions& options)
      : lane_(lane), job_(job), crank_(crank), options_(options) {}

  // Loads a point; with fixed fuelling the healthy engine runs first.
  void start(const LanePoint& point);
  // Takes the cycle that the job has just run. A result once the point is done.
  std::optional<SteadyResult> after_cycle();
  bool busy() const { return search_ != nullptr; }
  void leave();
  std::size_t index() const { return point_.index; }
  // The engine cycles of the newest period, or those to show of a motion that does not repeat.
  int cycles_to_record() const;
  // Turns the whole line to the asked speed while a motion that does not repeat is recorded: nothing else holds it.
  void hold_speed();
  const ConditionModel& model() const { return *model_; }

 private:
  void load(const Condition& condition, double fuelling);
  void load_crank();
  void load_start();
  StartState start_state() const;
  StartState end_state() const;
  SearchSetup setup() const;
  CycleTotals totals();
  double mean_torque(int coupling) const;
  bool steps_suffice() const;
  void fill_audit(CycleTotals& totals, double stored_before);
  double momentum() const;
  void correct(const Correction& correction);
  SteadyResult finish() const;
  void fill_spread(SteadyResult& result) const;
  void read_state();

  int lane_;
  CycleJob<Octet>& job_;
  std::vector<CrankNode<Octet>>& crank_;
  const SteadyOptions& options_;
  LanePoint point_{};
  bool finding_healthy_fuelling_ = false;
  std::unique_ptr<ConditionModel> model_;
  EngineTables tables_;
  std::unique_ptr<SteadySearch> search_;
  double fuelling_ = 0;  // [-]
  std::array<double, most_state> state_{};
  Workspace<double> work_;
  double lift_ = 1;                                       // [-] mean speed of the start over the asked one
  double momentum_before_ = 0;                            // [N m s]
  double stored_before_ = 0;                              // [J]
  std::array<double, most_couplings> coupling_before_{};  // [J]
};

}  // namespace calmshaft
