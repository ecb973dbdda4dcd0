// One cycle of a slice of a job: what both methods share. Only for lanes_kernel.cpp.
#pragma once

#include <type_traits>

#include "calmshaft/simulate/driven_line.hpp"
#include "lanes_pack.hpp"

namespace calmshaft::lanes::ISA {

// On copies, so that the compiler knows that nothing else changes them; each a variable of its own, so that it can keep
// one in registers where it needs another one in memory.
template <class Shape>
class Cycle {
 public:
  using Model = ModelOf<Pack, Shape>;

  Cycle(CycleJob<Octet>& job, Slice slice, Model& model, Workspace<Pack>& work, CycleMeter<Pack>& meter)
      : job_(job), slice_(slice), step_(job.cycle / job.steps), model_(model), work_(work), meter_(meter) {
    if constexpr (std::is_same_v<Shape, AnyShape>) static_cast<AnyShape&>(model_) = job.model;
    copy_sides(job.model, model_);
    for_each_value(job.model, model_, slice.copier());
    slice_.copy(job.fuelling, fuelling_);
    slice_.copy(job.work.mean_crank_speed, work_.mean_crank_speed);
    for (int i = 0; i < model_.dampers; ++i) {
      slice_.copy(job.work.friction[i].slider_twist, work_.friction[i].slider_twist);
      slice_.copy(job.work.friction[i].coupling_twist, work_.friction[i].coupling_twist);
    }
  }

 protected:
  using Reader = MeterReader<Model, Pack>;

  Reader reader() { return {model_, meter_, job_.watched, job_.steps, job_.bins, flattened_peaks(job_.method)}; }

  CrankDrive<Pack> drive_at(int node) const {
    Pack inertia, slope, base, fuelled;
    const CrankNode<Octet>& crank = job_.crank[node];
    slice_.copy(crank.inertia, inertia), slice_.copy(crank.inertia_slope, slope);
    slice_.copy(crank.base_torque, base), slice_.copy(crank.fuelled_torque, fuelled);
    return {base + fuelling_ * fuelled, inertia, slope};
  }

  void record(int node, Pack clock, const Pack* speed) {
    if (!job_.recording) return;
    Octet* row = job_.recording + static_cast<std::ptrdiff_t>(node) * recorded_channels(model_);
    slice_.copy(clock, row[0]);
    Octet* speeds = row + 1;
    repeat(model_.stations, [&](int i) { slice_.copy(speed[i], speeds[i]); });
    Octet* twists = speeds + model_.stations;
    Octet* torques = twists + model_.couplings();
    each_coupling(model_, [&](int i) {
      slice_.copy(work_.coupling_twist[i], twists[i]);
      slice_.copy(work_.coupling_torque[i], torques[i]);
    });
  }

  void keep_memory() {
    for (int i = 0; i < model_.dampers; ++i) {
      slice_.copy(work_.friction[i].slider_twist, job_.work.friction[i].slider_twist);
      slice_.copy(work_.friction[i].coupling_twist, job_.work.friction[i].coupling_twist);
    }
    for_each_value(meter_, job_.meter, model_.couplings(), job_.bins, slice_.copier());
  }

  CycleJob<Octet>& job_;
  Slice slice_;
  double step_;  // [rad]
  Model& model_;
  Workspace<Pack>& work_;
  CycleMeter<Pack>& meter_;
  Pack fuelling_;
};

}  // namespace calmshaft::lanes::ISA
