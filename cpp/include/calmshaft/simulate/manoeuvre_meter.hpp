// What is kept of a manoeuvre while it runs: samples on an even grid, and at every step peaks, shares and hits.
#pragma once

#include "calmshaft/simulate/manoeuvre.hpp"
#include "calmshaft/simulate/manoeuvre_system.hpp"

namespace calmshaft {

// Extremes of an unevenly sampled signal, with the vertex of the parabola through each three samples.
class PeakTracker {
 public:
  void take(double at, double value);
  void widen(double at, double value);  // by a value that is no sample
  const Peak& peak() const { return peak_; }

 private:
  Peak peak_{};
  int taken_ = 0;
  double at_[2]{}, value_[2]{};  // the last two samples, the newest first
};

class ManoeuvreMeter final : public StepFollower {
 public:
  ManoeuvreMeter(ManoeuvreSystem& system, const ManoeuvreOptions& options, double interval, History& history);

  void within(const StepSpan& span) override;
  bool after(double at, const double* state) override;

  // From now on everything counts; `state` is that of time 0.
  void begin(const double* state);
  void finish(double at);
  bool stalled() const { return stalled_; }
  bool rests() const { return rests_; }

 private:
  void sample(double at, const double* state);
  void take_contacts(double at);
  bool goes_on(double at, const double* state);

  ManoeuvreSystem& system_;
  const ManoeuvreOptions& options_;
  History& history_;
  double interval_;  // [s]
  bool counts_ = false;
  double next_sample_ = 0;  // [s]
  double time_before_ = 0;  // [s]
  double quiet_since_ = 0;  // [s]
  bool stalled_ = false, rests_ = false;
  std::vector<PeakTracker> twist_, torque_;      // by coupling
  std::vector<double> twist_before_;             // [rad] by coupling
  std::vector<double> drive_time_, coast_time_;  // [s] by coupling
  std::vector<double> buffer_, rate_;            // [unit of the state] scratch
};

}  // namespace calmshaft
