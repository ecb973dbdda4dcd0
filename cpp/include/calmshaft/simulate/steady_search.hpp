// Decides, cycle by cycle, whether the motion has settled and how speed and fuelling are to be corrected.
// Knows nothing of the integration.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "calmshaft/line/line.hpp"
#include "calmshaft/simulate/cycle_totals.hpp"

namespace calmshaft {

enum class Status : signed char { periodic, subharmonic, aperiodic, stalled, failed };

struct SearchSetup {
  double asked_speed;  // [rad/s]
  double cycle_angle;  // [rad]
  Fuelling fuelling;
  double fuelling_slope;             // [N m] mean torque per unit of fuelling
  double resistance_slope;           // [N m s/rad] of all loads, at the crank
  double torque_tolerance;           // [N m] smallest difference that counts
  double twist_tolerance;            // [rad] smallest difference that counts
  double relative_tolerance = 1e-3;  // [-]
  int watched = 0;                   // coupling whose torque is judged
  double float_tolerance = 0;        // [rad] smallest wandering of free teeth that counts
  double watched_stiffness = 0;      // [N m/rad] of the watched coupling in contact; 0: its twist is not judged
  int plate = -1;                    // coupling whose twist is judged; -1: none
  int longest = 72;                  // cycles
};

struct Correction {
  double speed = 0;     // [rad/s] to add to the crank's speed
  double fuelling = 0;  // [-] to add to the fuelling factor
};

class SteadySearch {
 public:
  explicit SteadySearch(const SearchSetup& setup) : setup_(setup) {}

  // Takes the newest cycle. Once settled() has a value no more cycles are needed.
  void take(CycleTotals&& totals);
  std::optional<Status> settled() const { return status_; }
  int cycles() const { return static_cast<int>(history_.size()); }
  // The newest whole period, 1 where the motion does not repeat.
  std::span<const CycleTotals> period() const;
  // The cycles that statistics may use: from cycle 9 on, without those that still settle.
  std::span<const CycleTotals> statistics() const;
  Correction correction() const;

 private:
  struct Judged {
    std::vector<double> values;  // [unit of the measure] by cycle, from cycle 9 on
    double tolerance;            // [unit of the measure] smallest difference that counts
  };

  std::vector<Judged> judged() const;
  double apart(const CycleTotals& a, const CycleTotals& b) const;
  bool balanced(std::span<const CycleTotals> cycles) const;
  bool is_periodic() const;
  int repeating_period() const;
  bool statistics_suffice() const;
  const CycleTotals& back(int age) const { return history_[history_.size() - 1 - static_cast<std::size_t>(age)]; }

  SearchSetup setup_;
  std::vector<CycleTotals> history_;
  std::optional<Status> status_;
  int period_ = 1;
};

}  // namespace calmshaft
