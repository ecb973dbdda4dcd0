#include "calmshaft/simulate/cycle_measures.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/measure/orders.hpp"
#include "calmshaft/simulate/cycle_meter.hpp"

namespace calmshaft {
namespace {

// What triangular bins of `block` nodes leave of a harmonic h of the cycle: [sin(pi h / bins) / (block sin(pi h /
// nodes))]^2.
double left_by_bins(int harmonic, int bins, int block) {
  const double phase = std::numbers::pi * harmonic / bins;
  const double share = std::sin(phase) / (block * std::sin(phase / block));
  return share * share;
}

class Filler {
 public:
  Filler(const Model& model, std::span<const CycleTotals> cycles, double cycle_angle)
      : model_(model), cycles_(cycles), angle_(cycle_angle * static_cast<double>(cycles.size())) {
    values_.fill(std::numeric_limits<double>::quiet_NaN());
    duration_ = sum([](const CycleTotals& c) { return c.duration; });
  }

  Measures fill(double vibratory) {
    fill_engine();
    for (int i = model_.first_damper(); i < model_.first_mesh(); ++i) fill_plate(i);
    for (int i = 0; i < model_.meshes; ++i)
      model_.mesh[i].loaded ? fill_loaded(model_.first_mesh() + i, vibratory) : fill_unloaded(model_.first_mesh() + i);
    return values_;
  }

 private:
  double& at(Measure measure) { return values_[index_of(measure)]; }
  void raise(Measure measure, double value) { at(measure) = at(measure) > value ? at(measure) : value; }
  void add(Measure measure, double value) { at(measure) = std::isnan(at(measure)) ? value : at(measure) + value; }

  template <class Get>
  double sum(const Get& get) const {
    double total = 0.0;
    for (const CycleTotals& cycle : cycles_) total += get(cycle);
    return total;
  }
  template <class Get>
  double least(const Get& get) const {
    double value = get(cycles_.front());
    for (const CycleTotals& cycle : cycles_) value = std::min(value, get(cycle));
    return value;
  }

  // The channel of one coupling over all cycles: extremes of extremes, sums of sums.
  CycleTotals::Channel over_all(int coupling) const {
    const auto c = static_cast<std::size_t>(coupling);
    CycleTotals::Channel all = cycles_.front().channel[c];
    for (const CycleTotals& cycle : cycles_.subspan(1)) {
      const CycleTotals::Channel& one = cycle.channel[c];
      all.torque_least = std::min(all.torque_least, one.torque_least);
      all.torque_greatest = std::max(all.torque_greatest, one.torque_greatest);
      all.twist_least = std::min(all.twist_least, one.twist_least);
      all.twist_greatest = std::max(all.twist_greatest, one.twist_greatest);
      all.torque_mean += one.torque_mean;
      all.drive_time += one.drive_time;
      all.coast_time += one.coast_time;
      all.dissipated += one.dissipated;
    }
    all.torque_mean /= static_cast<double>(cycles_.size());
    return all;
  }

  void fill_engine() {
    at(Measure::brake_torque) =
        sum([](const CycleTotals& c) { return c.audit.gas_work - c.audit.engine_friction; }) / angle_;
    at(Measure::mean_rpm) = angle_ / duration_ / rpm;
    const double slowest = least([](const CycleTotals& c) { return c.speed_least; });
    const double fastest = -least([](const CycleTotals& c) { return -c.speed_greatest; });
    at(Measure::cyclic_irregularity) = (fastest - slowest) * duration_ / angle_;
  }

  void fill_plate(int coupling) {
    const CycleTotals::Channel all = over_all(coupling);
    at(Measure::plate_twist_min) = all.twist_least;
    at(Measure::plate_twist_max) = all.twist_greatest;
    at(Measure::plate_torque_ripple) = all.torque_greatest - all.torque_least;
    at(Measure::plate_torque_min) = all.torque_least;
    at(Measure::plate_torque_max) = all.torque_greatest;
    at(Measure::plate_torque_mean) = all.torque_mean;
    at(Measure::plate_stop_share) = (all.drive_time + all.coast_time) / duration_;
    at(Measure::plate_friction_power) = sum([](const CycleTotals& c) { return c.dry_friction; }) / duration_;
    at(Measure::plate_heat_power) = all.dissipated / duration_;
  }

  double separated(const CycleTotals::Channel& all) const {
    return std::max(0.0, 1.0 - (all.drive_time + all.coast_time) / duration_);
  }

  void fill_loaded(int coupling, double vibratory) {
    const CycleTotals::Channel all = over_all(coupling);
    at(Measure::mesh_torque_ripple) = all.torque_greatest - all.torque_least;
    at(Measure::mesh_torque_half_range) = 0.5 * (all.torque_greatest - all.torque_least);
    at(Measure::mesh_torque_vibratory) = vibratory;
    at(Measure::mesh_torque_mean) = all.torque_mean;
    at(Measure::mesh_torque_min) = all.torque_least;
    at(Measure::mesh_torque_max) = all.torque_greatest;
    at(Measure::mesh_drive_share) = all.drive_time / duration_;
    at(Measure::mesh_separated_share) = separated(all);
    at(Measure::mesh_coast_share) = all.coast_time / duration_;
    at(Measure::mesh_impact_power) = all.dissipated / duration_;
  }

  void fill_unloaded(int coupling) {
    const CycleTotals::Channel all = over_all(coupling);
    raise(Measure::unloaded_mesh_torque_ripple, all.torque_greatest - all.torque_least);
    raise(Measure::unloaded_mesh_separated_share, separated(all));
    raise(Measure::unloaded_mesh_coast_share, all.coast_time / duration_);
    add(Measure::unloaded_mesh_impact_power, all.dissipated / duration_);
  }

  const Model& model_;
  std::span<const CycleTotals> cycles_;
  double angle_;
  double duration_ = 0;
  Measures values_;
};

}  // namespace

int watched_coupling(const Model& model) {
  for (const bool loaded : {true, false})
    for (int i = 0; i < model.meshes; ++i)
      if (model.mesh[i].loaded == loaded) return model.first_mesh() + i;
  return 0;
}

// Every rung of the ladder divides into 336 or 360 bins.
int bins_for(int steps_per_cycle) {
  for (const int bins : {360, 336})
    if (steps_per_cycle % bins == 0) return bins;
  for (int bins = most_bins; bins > 4 * reported_order; --bins)
    if (steps_per_cycle % bins == 0) return bins;
  return 0;
}

std::vector<std::complex<double>> orders_of(std::span<const CycleTotals> cycles, int strokes, int steps, int highest) {
  std::vector<double> samples;
  for (const CycleTotals& cycle : cycles) samples.insert(samples.end(), cycle.bins.begin(), cycle.bins.end());
  const int revolutions = strokes / 2;
  const int bins = static_cast<int>(cycles.front().bins.size());
  std::vector<std::complex<double>> orders = order_table(bins, revolutions, highest).orders(samples);
  for (std::size_t k = 0; k < orders.size(); ++k) {
    const double harmonic = static_cast<double>(k + 1) / 2.0 * revolutions;
    if (harmonic == std::floor(harmonic)) orders[k] /= left_by_bins(static_cast<int>(harmonic), bins, steps / bins);
  }
  return orders;
}

Measures measures_of(const Model& model, std::span<const CycleTotals> cycles, double cycle_angle,
                     std::span<const std::complex<double>> orders) {
  const int bins = static_cast<int>(cycles.front().bins.size());
  const int revolutions = static_cast<int>(cycle_angle / two_pi + 0.5);
  return Filler(model, cycles, cycle_angle).fill(order_table(bins, revolutions, vibratory_order).vibratory(orders));
}

}  // namespace calmshaft
