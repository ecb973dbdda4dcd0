// The periodic steady state of one condition: start, march, settle, measure.
#pragma once

#include <array>
#include <complex>
#include <string>
#include <vector>

#include "calmshaft/measure/cycle_statistics.hpp"
#include "calmshaft/measure/measures.hpp"
#include "calmshaft/simulate/condition_model.hpp"
#include "calmshaft/simulate/method.hpp"
#include "calmshaft/simulate/start_state.hpp"
#include "calmshaft/simulate/steady_search.hpp"

namespace calmshaft {

struct SteadyOptions {
  int steps_per_cycle = 0;    // 0: from the ladder, by the point alone
  int most_cycles = 72;       // budget before a point counts as aperiodic
  bool keep_signals = false;  // record every station and coupling over the last period
  double phase_step = 0;      // [rad] of the highest mode, at most, in a step of the ladder's choice; 0: as usual
  Method method = usual_method;
};

// Time histories over whole cycles at even crank angles, both ends included.
struct CycleRecord {
  double step = 0;                          // [rad] crank angle between nodes
  std::vector<double> time;                 // [s]
  std::vector<std::vector<double>> speed;   // [rad/s] (station, node)
  std::vector<std::vector<double>> twist;   // [rad] (coupling, node)
  std::vector<std::vector<double>> torque;  // [N m] (coupling, node)
};

struct SteadyResult {
  Status status = Status::failed;
  std::string reason;                                   // why it is stalled or failed, in words; else empty
  Measures measures;                                    // peak measures are NaN unless periodic or subharmonic
  std::array<CycleStatistics, measure_count> spread{};  // of the per-cycle values; cycles = 0 where there are none
  std::vector<std::complex<double>> orders;             // [N m] of the watched coupling, slot k is order (k + 1) / 2
  double fuelling = 0;                                  // [-] 1 gives rated torque at rated speed
  bool overfuelled = false;                             // more fuel than at rated torque
  int period_cycles = 0;                                // engine cycles after which the motion repeats; 0: it does not
  int cycles = 0;                                       // engine cycles integrated
  int steps_per_cycle = 0;
  EnergyAudit audit;   // of the last period, or of the last cycle where it does not repeat
  CycleRecord record;  // filled with keep_signals
  StartState end;      // of the last cycle; empty where stalled or failed
};

// A result without numbers: what is stalled or failed, and why.
SteadyResult unsolved(Status status, std::string reason);

inline constexpr const char* too_fast_for_steps =
    "a part of the line is too stiff or too heavily loaded for the finest steps at this speed: look for a stiffness, "
    "an "
    "inertia or a load in the wrong unit, or ask for a higher speed";
inline constexpr const char* too_few_steps =
    "so few steps a cycle are too coarse for this line, or cannot be divided into bins for its orders: write more, a "
    "multiple "
    "of 336 or 360, or 0 to have them chosen";
inline constexpr const char* books_do_not_balance =
    "the steps were too coarse for this line: energy was lost or made by the numbers; ask for more steps per cycle, or "
    "look "
    "for a part that is too stiff or too light";

// Steps of a cycle, or why there are none.
struct ChosenSteps {
  int steps;
  const char* none_because = nullptr;
};

// Those that the options ask for, if they can be had, or those that the condition needs. `highest_frequency` [rad/s] of
// the point: it is costly, and belongs to line and gear alone.
ChosenSteps steps_for(const ConditionModel& point, double highest_frequency, const SteadyOptions& options);

// Throws LineError when the condition does not fit the line; a numerical failure is a status.
SteadyResult steady(const PreparedLine& line, const Condition& condition, const SteadyOptions& options = {});

}  // namespace calmshaft
