// One engine cycle of eight sweep points side by side: all that the integration kernel reads and writes.
#pragma once

#include <vector>

#include "calmshaft/model/dynamics.hpp"
#include "calmshaft/simulate/cycle_meter.hpp"
#include "calmshaft/simulate/method.hpp"

namespace calmshaft {

inline constexpr int lane_count = 8;

// One value for each of eight points. Each instruction set has a pack of its own that takes all or half of them.
struct alignas(64) Octet {
  double lane[lane_count];
};

template <class Value>
struct CrankNode {
  Value inertia, inertia_slope;       // [kg m^2], [kg m^2/rad]
  Value looseness;                    // [1/(kg m^2)] over all inertia at the crank
  Value base_torque, fuelled_torque;  // [N m]
};

template <class Value>
struct CycleJob {
  ModelOf<Value> model;
  const CrankNode<Value>* crank = nullptr;  // nodes_per_step() of them a step
  Method method = usual_method;
  int steps = 0;
  int bins = 0;                  // a divisor of steps
  int watched = 0;               // coupling whose torque goes into the bins
  double cycle = 0;              // [rad]
  bool in_use[lane_count] = {};  // lanes whose results are wanted
  Value fuelling;                // [-]
  Value state[most_state];
  Workspace<Value> work;
  CycleMeter<Value> meter;
  Value* recording = nullptr;  // where wanted: (node, channel), channels as recorded_channels() counts them
};

// Clock, speeds, twists, torques.
template <class AnyModel>
int recorded_channels(const AnyModel& model) {
  return 1 + model.stations + 2 * model.couplings();
}

// Runs one cycle from the job's state; the clock and the work start at zero.
using CycleKernel = void (*)(CycleJob<Octet>& job);

// The kernels that this processor can run, the fastest first. All give the same bits.
const std::vector<CycleKernel>& cycle_kernels();

}  // namespace calmshaft
