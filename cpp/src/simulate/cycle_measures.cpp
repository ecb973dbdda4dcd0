#include "calmshaft/simulate/cycle_measures.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <mutex>
#include <span>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/measure/extremes.hpp"
#include "calmshaft/measure/shares.hpp"
#include "calmshaft/measure/speed.hpp"

namespace calmshaft {
namespace {

// Samples of whole cycles: the last node is the next period's first.
std::span<const double> period_of(const std::vector<double>& channel) { return {channel.data(), channel.size() - 1}; }

class Filler {
 public:
  Filler(const Model& model, const CycleRecord& record, const OrderTable& orders, bool repeats)
      : model_(model), record_(record), orders_(orders), repeats_(repeats) {
    values_.fill(std::numeric_limits<double>::quiet_NaN());
  }

  Measures fill() {
    fill_engine();
    for (int i = model_.first_damper(); i < model_.first_mesh(); ++i) fill_plate(i);
    for (int i = model_.first_mesh(); i < model_.couplings(); ++i) {
      if (model_.meshes[static_cast<std::size_t>(i - model_.first_mesh())].loaded)
        fill_loaded_mesh(i);
      else
        fill_unloaded_mesh(i);
    }
    return values_;
  }

 private:
  double& at(Measure measure) { return values_[index_of(measure)]; }
  void raise(Measure measure, double value) { at(measure) = at(measure) > value ? at(measure) : value; }
  void add(Measure measure, double value) { at(measure) = at(measure) == at(measure) ? at(measure) + value : value; }

  Extremes extremes_of(const std::vector<double>& channel) const {
    return repeats_ ? extremes(period_of(channel), true) : extremes(channel, false);
  }

  double power(double work) const { return work / record_.duration(); }

  void fill_engine() {
    const double angle = record_.step * static_cast<double>(record_.nodes() - 1);
    at(Measure::brake_torque) = (record_.audit.gas_work - record_.audit.engine_friction) / angle;
    at(Measure::mean_rpm) = angle / record_.duration() / rpm;
    at(Measure::cyclic_irregularity) = cyclic_irregularity(record_.speed.front(), record_.time);
  }

  void fill_plate(int coupling) {
    const auto c = static_cast<std::size_t>(coupling);
    const auto plate = static_cast<std::size_t>(coupling - model_.first_damper());
    const StagedDamper& damper = model_.dampers[plate];
    const Extremes twist = extremes_of(record_.twist[c]);
    const Extremes torque = extremes_of(record_.torque[c]);
    at(Measure::plate_twist_min) = twist.least;
    at(Measure::plate_twist_max) = twist.greatest;
    at(Measure::plate_torque_ripple) = torque.ripple();
    at(Measure::plate_torque_min) = torque.least;
    at(Measure::plate_torque_max) = torque.greatest;
    at(Measure::plate_torque_mean) = orders_.mean(period_of(record_.torque[c]));
    at(Measure::plate_stop_share) = stop_share(damper, record_.twist[c]);
    const auto friction_slot = static_cast<std::size_t>(model_.dry_friction_slot(static_cast<int>(plate)) -
                                                        model_.gas_work_slot());
    at(Measure::plate_friction_power) = power(record_.work[friction_slot]);
    at(Measure::plate_heat_power) = power(record_.dissipated[c]);
  }

  // Between the stops the plate is "separated" from them; the rest of the time it rests on one.
  double stop_share(const StagedDamper& damper, const std::vector<double>& twist) const {
    const double middle = 0.5 * (damper.drive_stop - damper.coast_stop);
    const double half_width = 0.5 * (damper.drive_stop + damper.coast_stop);
    if (!(half_width < std::numeric_limits<double>::max())) return 0.0;
    std::vector<double> from_middle(twist);
    for (double& value : from_middle) value -= middle;
    return 1.0 - contact_shares(from_middle, record_.time, half_width).separated;
  }

  ContactShares shares(int coupling) const {
    const GearMesh& mesh = model_.meshes[static_cast<std::size_t>(coupling - model_.first_mesh())];
    return contact_shares(record_.twist[static_cast<std::size_t>(coupling)], record_.time, mesh.half_backlash);
  }

  void fill_loaded_mesh(int coupling) {
    const auto c = static_cast<std::size_t>(coupling);
    const Extremes torque = extremes_of(record_.torque[c]);
    const ContactShares share = shares(coupling);
    at(Measure::mesh_torque_ripple) = torque.ripple();
    at(Measure::mesh_torque_half_range) = torque.half_range();
    at(Measure::mesh_torque_min) = torque.least;
    at(Measure::mesh_torque_max) = torque.greatest;
    at(Measure::mesh_torque_mean) = orders_.mean(period_of(record_.torque[c]));
    at(Measure::mesh_torque_vibratory) = orders_.vibratory(period_of(record_.torque[c]));
    at(Measure::mesh_drive_share) = share.drive;
    at(Measure::mesh_separated_share) = share.separated;
    at(Measure::mesh_coast_share) = share.coast;
    at(Measure::mesh_impact_power) = power(record_.dissipated[c]);
  }

  void fill_unloaded_mesh(int coupling) {
    const auto c = static_cast<std::size_t>(coupling);
    const ContactShares share = shares(coupling);
    raise(Measure::unloaded_mesh_torque_ripple, extremes_of(record_.torque[c]).ripple());
    raise(Measure::unloaded_mesh_separated_share, share.separated);
    raise(Measure::unloaded_mesh_coast_share, share.coast);
    add(Measure::unloaded_mesh_impact_power, power(record_.dissipated[c]));
  }

  const Model& model_;
  const CycleRecord& record_;
  const OrderTable& orders_;
  bool repeats_;
  Measures values_;
};

}  // namespace

Measures measures_of(const Model& model, const CycleRecord& record, const OrderTable& orders, bool repeats) {
  return Filler(model, record, orders, repeats).fill();
}

int watched_coupling(const Model& model) {
  for (const bool loaded : {true, false})
    for (std::size_t i = 0; i < model.meshes.size(); ++i)
      if (model.meshes[i].loaded == loaded) return model.first_mesh() + static_cast<int>(i);
  return 0;
}

const OrderTable& order_table(int steps_per_cycle, int revolutions_per_cycle) {
  static std::mutex guard;
  static std::map<std::pair<int, int>, OrderTable> tables;
  const std::lock_guard lock(guard);
  return tables.try_emplace({steps_per_cycle, revolutions_per_cycle}, steps_per_cycle, revolutions_per_cycle)
      .first->second;
}

std::vector<std::complex<double>> watched_orders(const Model& model, const CycleRecord& record,
                                                 const OrderTable& orders) {
  return orders.orders(period_of(record.torque[static_cast<std::size_t>(watched_coupling(model))]));
}

}  // namespace calmshaft
