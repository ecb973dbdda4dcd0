// The periodic steady state of one condition: start, march, settle, measure.
#pragma once

#include <array>
#include <complex>
#include <string>
#include <vector>

#include "calmshaft/measure/cycle_statistics.hpp"
#include "calmshaft/measure/measures.hpp"
#include "calmshaft/simulate/condition_model.hpp"
#include "calmshaft/simulate/cycle.hpp"
#include "calmshaft/simulate/steady_search.hpp"

namespace calmshaft {

struct SteadyOptions {
  int steps_per_cycle = 0;    // 0: from the ladder, by the point alone
  int most_cycles = 72;       // budget before a point counts as aperiodic
  bool keep_signals = false;  // record every station over the last period
};

struct SteadyResult {
  Status status = Status::failed;
  std::string reason;         // why it is stalled or failed, in words; else empty
  Measures measures;          // peak measures are NaN unless periodic or subharmonic
  std::array<CycleStatistics, measure_count> spread;  // of the per-cycle values; cycles = 0 where there are none
  std::vector<std::complex<double>> orders;  // [N m] of the watched coupling, slot k is order (k + 1) / 2
  double fuelling = 0;        // [-] 1 gives rated torque at rated speed
  bool overfuelled = false;   // more fuel than at rated torque
  int period_cycles = 0;      // engine cycles after which the motion repeats; 0: it does not
  int cycles = 0;             // engine cycles integrated
  int steps_per_cycle = 0;
  EnergyAudit audit;          // of the last period, or of the last cycles where it does not repeat
  CycleRecord record;         // filled with keep_signals
};

// Throws LineError when the condition does not fit the line; a numerical failure is a status.
SteadyResult steady(const PreparedLine& line, const Condition& condition, const SteadyOptions& options = {});

}  // namespace calmshaft
