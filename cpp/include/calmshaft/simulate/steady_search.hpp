// Decides, cycle by cycle, whether the motion has settled and how speed and fuelling are to be corrected.
// Knows nothing of the integration, so single conditions and packs of sweep points share it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "calmshaft/line/line.hpp"
#include "calmshaft/measure/measures.hpp"

namespace calmshaft {

enum class Status : signed char { periodic, subharmonic, aperiodic, stalled, failed };

// What one cycle left behind.
struct CycleOutcome {
  Measures measures;
  double ripple;           // [N m] peak to peak of the watched coupling
  double least_torque;     // [N m]
  double duration;         // [s]
  double momentum_change;  // [N m s] at the crank
};

struct SearchSetup {
  double asked_speed;            // [rad/s]
  double cycle_angle;            // [rad]
  Fuelling fuelling;
  double fuelling_slope;         // [N m] mean torque per unit of fuelling
  double resistance_slope;       // [N m s/rad] of all loads, at the crank
  double torque_tolerance;       // [N m] smallest difference that counts
  double twist_tolerance;        // [rad] smallest difference that counts
  double relative_tolerance = 1e-3;
  int longest = 72;              // cycles
};

struct Correction {
  double speed = 0;     // [rad/s] to add to the crank's speed
  double fuelling = 0;  // [-] to add to the fuelling factor
};

class SteadySearch {
 public:
  explicit SteadySearch(const SearchSetup& setup) : setup_(setup) {}

  // Takes the newest cycle. Once settled() has a value no more cycles are needed.
  void take(const CycleOutcome& outcome);
  std::optional<Status> settled() const { return status_; }
  int period() const { return period_; }
  int cycles() const { return static_cast<int>(history_.size()); }
  // The cycles that statistics may use: from cycle 9 on, or the last whole period.
  std::vector<CycleOutcome> statistics() const;
  Correction correction() const;

 private:
  bool same(const CycleOutcome& a, const CycleOutcome& b, double share) const;
  bool balanced() const;
  bool is_periodic() const;
  int repeating_period() const;
  bool statistics_suffice() const;
  const CycleOutcome& back(int age) const { return history_[history_.size() - 1 - static_cast<std::size_t>(age)]; }

  SearchSetup setup_;
  std::vector<CycleOutcome> history_;
  std::optional<Status> status_;
  int period_ = 1;
};

}  // namespace calmshaft
