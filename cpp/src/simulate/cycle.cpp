#include "calmshaft/simulate/cycle.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace calmshaft {

CycleRunner::CycleRunner(const Model& model, const EngineTables& tables, bool keep_all_speeds)
    : state(static_cast<std::size_t>(model.state_size()), 0.0),
      model_(model),
      tables_(tables),
      keep_all_speeds_(keep_all_speeds),
      nodes_per_radian_(tables.nodes / tables.cycle),
      stepper_(model.state_size()),
      rate_(state.size(), 0.0) {}

void CycleRunner::change_speed(double change) {
  for (int i = 0; i < model_.stations; ++i)
    state[static_cast<std::size_t>(model_.speed_slot(i))] += change * model_.speed_ratio[static_cast<std::size_t>(i)];
}

// The crank angle runs from 0 to the cycle's end; half steps fall on the tables' nodes.
void CycleRunner::derivative(double at, const double* x, double* rate) {
  auto node = static_cast<std::size_t>(at * nodes_per_radian_ + 0.5);
  if (node >= tables_.inertia.size()) node = 0;
  const CrankDrive<double> drive{tables_.base_torque[node] + fuelling * tables_.fuelled_torque[node],
                                 tables_.inertia[node], tables_.inertia_slope[node]};
  derivative_in_crank_angle(model_, drive, x, work, rate);
}

void CycleRunner::after_step(double, const double* x) { remember_friction(model_, x, work); }

// sum of J_i w_i times speed ratio: what a torque at the crank changes.
double CycleRunner::momentum() const {
  const double* speed = state.data() + model_.stations;
  double sum = tables_.inertia.front() * speed[0];
  for (int i = 0; i < model_.stations; ++i) {
    const auto station = static_cast<std::size_t>(i);
    sum += model_.inertia[station] * model_.speed_ratio[station] * speed[i];
  }
  return sum;
}

void CycleRunner::prepare(int cycles, CycleRecord& record) const {
  const auto nodes = static_cast<std::size_t>(cycles * steps_per_cycle()) + 1;
  record.step = tables_.cycle / steps_per_cycle();
  record.time.resize(nodes);
  record.speed.resize(keep_all_speeds_ ? static_cast<std::size_t>(model_.stations) : 1);
  record.twist.resize(static_cast<std::size_t>(model_.couplings()));
  record.torque.resize(record.twist.size());
  for (auto* channels : {&record.speed, &record.twist, &record.torque})
    for (auto& channel : *channels) channel.resize(nodes);
}

void CycleRunner::keep(std::size_t node, CycleRecord& record) {
  record.time[node] = state[0];
  for (std::size_t i = 0; i < record.speed.size(); ++i)
    record.speed[i][node] = state[static_cast<std::size_t>(model_.stations) + i];
  for (std::size_t i = 0; i < record.twist.size(); ++i) {
    record.twist[i][node] = work.coupling_twist[i];
    record.torque[i][node] = work.coupling_torque[i];
  }
}

CycleEnd CycleRunner::step_through(int cycles, CycleRecord& record) {
  const int steps = steps_per_cycle();
  std::size_t node = 0;
  for (int cycle = 0; cycle < cycles; ++cycle) {
    for (int i = 0; i < steps; ++i) {
      const double at = i * record.step;
      derivative(at, state.data(), rate_.data());
      keep(node++, record);
      stepper_.step(*this, at, record.step, rate_.data(), state.data());
      after_step(at + record.step, state.data());
      const double crank_speed = state[static_cast<std::size_t>(model_.stations)];
      if (!std::isfinite(crank_speed)) return CycleEnd::not_finite;
      if (crank_speed <= least_crank_speed) return CycleEnd::stalled;
    }
  }
  derivative(0.0, state.data(), rate_.data());
  keep(node, record);
  const bool finite = std::all_of(state.begin(), state.end(), [](double value) { return std::isfinite(value); });
  return finite ? CycleEnd::complete : CycleEnd::not_finite;
}

CycleEnd CycleRunner::run(int cycles, CycleRecord& record) {
  prepare(cycles, record);
  state[0] = 0.0;
  const auto first_work = state.begin() + model_.gas_work_slot();
  std::fill(first_work, state.end(), 0.0);
  const double momentum_before = momentum();
  const double crank_inertia = tables_.inertia.front();
  const double stored_before = stored_energy(model_, crank_inertia, state.data(), work);
  std::vector<double> coupling_before(record.twist.size());
  for (int i = 0; i < model_.couplings(); ++i)
    coupling_before[static_cast<std::size_t>(i)] = coupling_energy(model_, i, state.data(), work);

  const CycleEnd end = step_through(cycles, record);
  if (end != CycleEnd::complete) return end;

  record.work.assign(first_work, state.end());
  record.momentum_change = momentum() - momentum_before;
  record.dissipated.resize(coupling_before.size());
  EnergyAudit& audit = record.audit = {};
  audit.gas_work = record.work[0];
  audit.engine_friction = record.work[1];
  for (int i = 0; i < model_.couplings(); ++i) {
    const auto coupling = static_cast<std::size_t>(i);
    const double stored_more = coupling_energy(model_, i, state.data(), work) - coupling_before[coupling];
    record.dissipated[coupling] = record.work[2 + coupling] - stored_more;
    audit.couplings += record.dissipated[coupling];
  }
  const auto first_load = record.work.end() - model_.loads();
  audit.loads = std::accumulate(first_load, record.work.end(), 0.0);
  audit.stored_change = stored_energy(model_, crank_inertia, state.data(), work) - stored_before;
  audit.throughput = std::max(audit.gas_work, audit.engine_friction + audit.couplings + audit.loads);
  audit.defect = audit.gas_work - audit.engine_friction - audit.couplings - audit.loads - audit.stored_change;
  return end;
}

}  // namespace calmshaft
