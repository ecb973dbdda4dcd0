// A line through a manoeuvre: start, run-up, clutch, crash reversal, loss of load, stop.
#pragma once

#include <atomic>
#include <string>
#include <vector>

#include "calmshaft/model/energy.hpp"
#include "calmshaft/simulate/governor.hpp"
#include "calmshaft/solve/time_stepping.hpp"

namespace calmshaft {

struct ManoeuvreOptions {
  Governor governor;
  double stall_speed = 0;              // [rad/s] below it an engine with fuel and without starter no longer runs
  double sample_interval = 0;          // [s] between samples; 0: 20 in a period of order 12 at the greatest speed asked
  int most_samples = 200'000;          // samples, whatever the interval
  int settle_cycles = 12;              // engine cycles before time 0, not reported
  double tolerance = 1e-4;             // [-] error of torque in a step over rated torque
  long most_evaluations = 40'000'000;  // derivatives, then the run ends unfinished
  const std::atomic<bool>* stop = nullptr;  // set from another thread to end the run
};

enum class ManoeuvreEnd { finished, at_rest, hunting, stalled, unfinished, failed, interrupted };

struct Peak {
  double least, greatest;        // [unit of the signal]
  double least_at, greatest_at;  // [s]
};

struct MeshShares {
  double drive = 0, separated = 0, coast = 0;  // [-] of the time
};

struct ClutchWork {
  int coupling = 0;       // its gear pair's
  double heat = 0;        // [J] in its plates
  double slip_ended = 0;  // [s] NaN where it never carried and slipped
  bool slips = false;     // at the end
};

struct History {
  ManoeuvreEnd status = ManoeuvreEnd::failed;
  std::string reason;                                    // in a sentence, where there is something to say
  std::vector<std::string> stations, couplings;          // names
  std::vector<double> time, crank_angle;                 // [s], [rad]
  std::vector<double> fuelling;                          // [-]
  std::vector<std::vector<double>> speed;                // [rad/s] (station, sample)
  std::vector<std::vector<double>> twist;                // [rad] (coupling, sample)
  std::vector<std::vector<double>> torque;               // [N m] (coupling, sample)
  std::vector<Peak> twist_peak, torque_peak;             // [rad], [N m] by coupling, over all accepted steps
  std::vector<MeshShares> shares;                        // [-] by mesh, in the order of the couplings
  std::vector<double> drive_stop_hits, coast_stop_hits;  // [s] when the plate met its stop
  std::vector<ClutchWork> clutches;
  EnergyAudit audit;
  AdaptiveStats stats;
};

// Throws LineError where condition or schedule do not fit the line; everything else is a status.
History simulate(const PreparedLine& line, const Condition& condition, const Schedule& schedule,
                 const ManoeuvreOptions& options = {});

}  // namespace calmshaft
