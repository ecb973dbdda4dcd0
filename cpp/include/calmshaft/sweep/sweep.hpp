// Many conditions of many lines on all cores; every point by itself, so order and threads change nothing.
#pragma once

#include <atomic>
#include <cstdint>
#include <vector>

#include "calmshaft/simulate/steady.hpp"

namespace calmshaft {

struct SweepPoint {
  int line = 0;  // index into the lines
  Condition condition;
};

struct SweepOptions {
  int threads = 0;  // 0: one a core
  std::size_t column = 1;  // so many points in a row start each from the end of the one before, the first from cold
  SteadyOptions steady;
};

// Results by point, row-major; rows that were not reached keep status -1 and NaN.
struct SweepTable {
  explicit SweepTable(std::size_t points);

  std::vector<double> value;           // [unit of the measure] (point, measure)
  std::vector<double> mean;            // [unit of the measure] (point, measure) of the per-cycle values
  std::vector<double> lowest_cycle;    // [unit of the measure] (point, measure)
  std::vector<double> highest_cycle;   // [unit of the measure] (point, measure)
  std::vector<double> standard_error;  // [unit of the measure] (point, measure)
  std::vector<double> order;           // [N m] (point, 48) amplitude of orders 0.5, 1, ... 24
  std::vector<double> fuelling;        // [-] (point)
  std::vector<double> energy_defect;   // [-] (point) over throughput
  std::vector<std::int8_t> status;     // (point)
  std::vector<std::uint8_t> overfuelled;
  std::vector<std::int32_t> period_cycles;
  std::vector<std::int32_t> cycles;
  std::vector<std::int32_t> steps_per_cycle;
};

// Shared between the workers and whoever watches them.
struct SweepProgress {
  std::atomic<std::size_t> done{0};
  std::atomic<bool> stop{false};
};

// Fills `table` until every point is done or `progress.stop` is set. A point whose condition does not fit
// its line throws LineError before any work starts; a numerical failure is that point's status.
void sweep(const std::vector<PreparedLine>& lines, const std::vector<SweepPoint>& points, const SweepOptions& options,
           SweepTable& table, SweepProgress& progress);

}  // namespace calmshaft
