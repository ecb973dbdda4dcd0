// Spread of a measure over the cycles of a run: what an aperiodic point has instead of one value.
#pragma once

#include <span>

namespace calmshaft {

struct CycleStatistics {
  double mean;            // [unit of the measure]
  double lowest;          // [unit of the measure] value of the lowest cycle
  double highest;         // [unit of the measure] value of the highest cycle
  double standard_error;  // [unit of the measure] of the mean; NaN for one cycle: unknown, not zero
  int cycles;
};

// `values`: one value per cycle. A NaN among them makes every figure NaN.
// Throws std::invalid_argument when there is none.
CycleStatistics cycle_statistics(std::span<const double> values);

}  // namespace calmshaft
