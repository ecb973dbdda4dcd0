// Rainflow counting: which cycles of stress a history holds, for a sum of damage.
// Rule: ASTM E1049-85, clause 5.4.4 (rainflow counting).
#pragma once

#include <span>
#include <vector>

namespace calmshaft {

struct CountedCycle {
  double range;  // [unit of the signal] peak less valley
  double mean;   // [unit of the signal] half-way between them
  double count;  // [-] 1 for a whole cycle, 0.5 for a half
};

// Cycles in the order in which they close, then the half cycles that are left over. The first and the last
// value count as turning points; level stretches and what lies between turning points do not matter.
// A history that does not turn at all has no cycle. Throws std::invalid_argument for a value that is not finite.
std::vector<CountedCycle> rainflow(std::span<const double> values);

}  // namespace calmshaft
