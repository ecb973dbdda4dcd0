// One engine cycle of four sweep points side by side: all that the integration kernel reads and writes.
#pragma once

#include "calmshaft/model/dynamics.hpp"
#include "calmshaft/simulate/cycle_meter.hpp"
#include "calmshaft/simulate/method.hpp"

namespace calmshaft {

inline constexpr int lane_count = 4;

// One value for each of four points. Has the layout of the kernel's own pack, so that each instruction
// set can have its own type.
struct alignas(32) Quad {
  double lane[lane_count];
};

template <class Value>
struct CrankNode {
  Value inertia, inertia_slope;        // [kg m^2], [kg m^2/rad]
  Value base_torque, fuelled_torque;  // [N m]
};

template <class Value>
struct CycleJob {
  ModelOf<Value> model;
  const CrankNode<Value>* crank = nullptr;  // nodes_per_step() of them a step
  Method method = usual_method;
  int steps = 0;
  int bins = 0;      // a divisor of steps
  int watched = 0;   // coupling whose torque goes into the bins
  double cycle = 0;  // [rad]
  Value fuelling;    // [-]
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
using CycleKernel = void (*)(CycleJob<Quad>& job);

// The kernel for this processor, chosen once.
CycleKernel cycle_kernel();

}  // namespace calmshaft
