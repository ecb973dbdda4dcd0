#include "calmshaft/engine/engine_tables.hpp"

#include <cmath>
#include <cstddef>
#include <map>
#include <mutex>
#include <string>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/core/errors.hpp"
#include "calmshaft/engine/friction.hpp"

namespace calmshaft {

namespace {

// Cylinders closer than this part of a node to each other's grid share one table.
constexpr double same_place = 1e-9;

// One cylinder over its cycle: entry j at `offset + j` nodes after its firing top dead centre.
struct CylinderSamples {
  double offset = 0;                  // [nodes] -0.5 to 0.5
  std::vector<double> inertia;        // [kg m^2]
  std::vector<double> inertia_slope;  // [kg m^2/rad]
  std::vector<double> open;           // [N m]
  std::vector<double> trapped;        // [N m]
  std::vector<double> fired;          // [N m/J]
};

void fill(CylinderSamples& samples, const Engine& engine, const CylinderCycle& cylinder, int nodes) {
  const double width = cylinder.angle() / nodes;
  for (int j = 0; j < nodes; ++j) {
    const double angle = (samples.offset + j) * width;
    const Inertia inertia = moving_inertia(slider_crank(engine), moving_parts(engine), angle);
    const CylinderTorque torque = cylinder.torque(angle);
    samples.inertia.push_back(inertia.value);
    samples.inertia_slope.push_back(inertia.slope);
    samples.open.push_back(torque.open);
    samples.trapped.push_back(torque.trapped);
    samples.fired.push_back(torque.fired);
  }
}

struct Place {
  std::size_t samples;  // which CylinderSamples
  std::size_t shift;    // [nodes] by which they come later
};

// sum[j] += factor * values[j - shift], round the cycle
void add_shifted(std::vector<double>& sum, const std::vector<double>& values, std::size_t shift,
                 double factor) {
  const std::size_t head = values.size() - shift;
  for (std::size_t j = 0; j < shift; ++j) sum[j] += factor * values[head + j];
  for (std::size_t j = shift; j < sum.size(); ++j) sum[j] += factor * values[j - shift];
}

// The factor f of gas torque = N (open + trapped + f fired) that gives the rated torque, friction included.
double heat_for_rated_torque(const Engine& engine, const CylinderTorque& mean) {
  const double asked = engine.rated_torque + friction_torque(engine).torque(engine.rated_speed);
  return (asked / static_cast<double>(engine.firing_angles.size()) - mean.open - mean.trapped) / mean.fired;
}

Fault drives_without_fuel(const Engine& engine) {
  const std::string rule = "must not let a cylinder without fuel drive the engine";
  return {"engine.combustion.exhaust_pressure",
          std::to_string(engine.combustion.exhaust_pressure / 1e5) + " bar", rule,
          "write an exhaust pressure above the inlet pressure (four-stroke) or below it (two-stroke)"};
}

}  // namespace

struct EngineCycles::Samples {
  EngineTables constant;  // all that does not depend on strengths
  std::vector<CylinderSamples> cylinders;
  std::vector<Place> places;  // by cylinder number

  // Place of a cylinder that fires `nodes_later` nodes after crank angle 0.
  void place(double nodes_later) {
    const double whole = std::round(nodes_later);
    const double offset = whole - nodes_later;
    std::size_t k = 0;
    while (k < cylinders.size() && std::abs(cylinders[k].offset - offset) > same_place) ++k;
    if (k == cylinders.size()) {
      cylinders.emplace_back();
      cylinders.back().offset = std::abs(offset) > same_place ? offset : 0.0;
    }
    const double count = constant.nodes;
    places.push_back({k, static_cast<std::size_t>(whole - count * std::floor(whole / count))});
  }
};

struct EngineCycles::Cache {
  std::mutex mutex;
  std::map<int, std::shared_ptr<const Samples>> by_nodes;
};

EngineCycles::EngineCycles(const Engine& engine)
    : engine_(engine),
      cylinder_(engine),
      rated_heat_(heat_for_rated_torque(engine, cylinder_.mean())),
      cache_(std::make_shared<Cache>()) {
  const CylinderTorque& mean = cylinder_.mean();
  if (!(rated_heat_ > 0.0) || !std::isfinite(rated_heat_)) {
    throw LineError(
        {{"engine.rated_torque", std::to_string(engine.rated_torque) + " N m", "must need heat from the fuel",
          "write the brake torque of the data plate, and check the combustion values"}});
  }
  const double rounding = 1e-9 * crankcase_pressure * swept_volume(engine.bore, engine.stroke);
  if (mean.open + mean.trapped > rounding) throw LineError({drives_without_fuel(engine)});
}

EngineCycles::Samples EngineCycles::sample(int nodes) const {
  const double width = cylinder_.angle() / nodes;
  Samples result;
  const std::vector<double> zeros(static_cast<std::size_t>(nodes), 0.0);
  result.constant = {nodes, cylinder_.angle(), zeros, zeros, zeros, zeros};
  EngineTables& sum = result.constant;
  sum.inertia.assign(zeros.size(), engine_.crank_inertia);
  for (const double angle : engine_.firing_angles) result.place(angle / width);
  for (CylinderSamples& one : result.cylinders) fill(one, engine_, cylinder_, nodes);
  std::vector<double>& charge = engine_.fuel == Fuel::petrol ? sum.fuelled_torque : sum.base_torque;
  for (const Place& place : result.places) {
    const CylinderSamples& one = result.cylinders[place.samples];
    add_shifted(sum.inertia, one.inertia, place.shift, 1.0);
    add_shifted(sum.inertia_slope, one.inertia_slope, place.shift, 1.0);
    add_shifted(sum.base_torque, one.open, place.shift, 1.0);
    add_shifted(charge, one.trapped, place.shift, 1.0);
  }
  return result;
}

std::shared_ptr<const EngineCycles::Samples> EngineCycles::samples(int nodes) const {
  const std::lock_guard lock(cache_->mutex);
  auto& entry = cache_->by_nodes[nodes];
  if (!entry) entry = std::make_shared<const Samples>(sample(nodes));
  return entry;
}

void EngineCycles::check(const std::vector<double>& strengths, int nodes) const {
  std::vector<Fault> faults;
  if (nodes < 1) {
    faults.push_back({"nodes", std::to_string(nodes), "must be 1 or more", "write a number such as 1440"});
  }
  const std::size_t cylinders = engine_.firing_angles.size();
  if (!strengths.empty() && strengths.size() != cylinders) {
    faults.push_back({"strengths", std::to_string(strengths.size()) + " values", "must be one a cylinder",
                      "write " + std::to_string(cylinders) + " values, or none for a healthy engine"});
  }
  for (std::size_t i = 0; i < strengths.size(); ++i) {
    if (strengths[i] >= 0.0 && std::isfinite(strengths[i])) continue;
    faults.push_back({"strengths[" + std::to_string(i) + "]", std::to_string(strengths[i]),
                      "must be zero or more", "write 0 for a dead cylinder, 1 for a healthy one"});
  }
  if (!faults.empty()) throw LineError(faults);
}

EngineTables EngineCycles::tables(const std::vector<double>& strengths, int nodes) const {
  check(strengths, nodes);
  const std::shared_ptr<const Samples> ready = samples(nodes);
  EngineTables result = ready->constant;
  for (std::size_t i = 0; i < ready->places.size(); ++i) {
    const Place& place = ready->places[i];
    const double heat = rated_heat_ * (strengths.empty() ? 1.0 : strengths[i]);
    add_shifted(result.fuelled_torque, ready->cylinders[place.samples].fired, place.shift, heat);
  }
  return result;
}

EngineTables engine_tables(const Engine& engine, const std::vector<double>& strengths, int nodes) {
  return EngineCycles(engine).tables(strengths, nodes);
}

double mean_moving_inertia(const Engine& engine) {
  constexpr int nodes = 360;  // smooth and periodic: equal weights are exact to rounding
  double sum = 0.0;
  for (int i = 0; i < nodes; ++i)
    sum += moving_inertia(slider_crank(engine), moving_parts(engine), i * two_pi / nodes).value;
  return static_cast<double>(engine.firing_angles.size()) * sum / nodes;
}

}  // namespace calmshaft
