#include "calmshaft/simulate/oscillation.hpp"

#include <array>
#include <cmath>
#include <set>
#include <string>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/model/dynamics.hpp"

namespace calmshaft {
namespace {

void require(bool holds, const std::string& rule) {
  if (!holds) throw SolveError("cannot oscillate: " + rule);
}

double ratio_of(const LinearSpring&) { return 1.0; }
double ratio_of(const StagedDamper&) { return 1.0; }
double ratio_of(const GearMesh& mesh) { return mesh.ratio; }

void check_joint(const MassElastic& system, int from, int to, double ratio, const std::string& name) {
  const auto& stations = system.stations;
  require(0 <= from && from < to && to < static_cast<int>(stations.size()),
          "coupling '" + name + "' must lead from a station to a later one");
  const double wanted = stations[static_cast<std::size_t>(from)].speed_ratio;
  require(std::fabs(ratio * stations[static_cast<std::size_t>(to)].speed_ratio - wanted) < 1e-9,
          "the speed ratios at coupling '" + name + "' do not agree with its ratio");
}

void check_tree(const MassElastic& system) {
  std::set<int> reached{0};
  for (const Coupling& coupling : system.couplings)
    std::visit(
        [&](const auto& one) {
          check_joint(system, one.from, one.to, ratio_of(one), one.name);
          require(reached.insert(one.to).second, "two couplings lead to one station");
        },
        coupling);
  require(reached.size() == system.stations.size(), "every station but the first needs one coupling that leads to it");
  for (const Load& load : system.loads)
    std::visit([&](const auto& one) { require(reached.contains(one.station), "a load has no station"); }, load);
  for (const Station& station : system.stations)
    require(station.inertia > 0, "station '" + station.name + "' must have an inertia above zero");
}

class Shaken final : public System {
 public:
  Shaken(const Model& model, const SineTorque& torque) : model_(model), torque_(torque) {}
  int size() const override { return model_.state_size(); }
  void derivative(double at, const double* state, double* rate) override {
    const double drive = torque_.mean + torque_.amplitude * std::cos(torque_.frequency * at);
    derivative_in_time(model_, {drive, 0.0, 0.0}, state, work, rate);
  }
  void after_step(double, const double* state) override { remember_friction(model_, state, work); }

  Workspace<double> work{};

 private:
  const Model& model_;
  SineTorque torque_;
};

std::array<double, most_state> state_of(const Model& model, const StartMotion& start) {
  const auto n = static_cast<std::size_t>(model.stations);
  require(start.angle.size() == n && start.speed.size() == n, "give a start angle and a start speed for each station");
  std::array<double, most_state> state{};
  for (std::size_t i = 0; i < n; ++i) {
    state[i] = i == 0 ? start.angle[0] : start.angle[i] - model.speed_ratio[i] * start.angle[0];
    state[n + i] = start.speed[i];
  }
  return state;
}

class Recorder {
 public:
  explicit Recorder(const Model& model) : model_(model) {
    const auto stations = static_cast<std::size_t>(model.stations);
    const auto couplings = static_cast<std::size_t>(model.couplings());
    for (auto* channels : {&kept.angle, &kept.speed, &kept.acceleration}) channels->resize(stations);
    for (auto* channels : {&kept.twist, &kept.torque, &kept.work}) channels->resize(couplings);
  }

  void keep(double at, const double* state, Shaken& system) {
    std::array<double, most_state> rate{};
    system.derivative(at, state, rate.data());
    kept.time.push_back(at);
    for (int i = 0; i < model_.stations; ++i) {
      const auto station = static_cast<std::size_t>(i);
      kept.angle[station].push_back(angle_of(i, state) + model_.speed_ratio[i] * state[0]);
      kept.speed[station].push_back(state[model_.stations + i]);
      kept.acceleration[station].push_back(rate[static_cast<std::size_t>(model_.stations + i)]);
    }
    for (int i = 0; i < model_.couplings(); ++i) {
      const auto coupling = static_cast<std::size_t>(i);
      kept.twist[coupling].push_back(system.work.coupling_twist[i]);
      kept.torque[coupling].push_back(system.work.coupling_torque[i]);
      kept.work[coupling].push_back(state[model_.coupling_work_slot(i)]);
    }
  }

  Oscillation kept;

 private:
  const Model& model_;
};

}  // namespace

Oscillation oscillate(const MassElastic& system, const SineTorque& torque, const StartMotion& start, double duration,
                      double record_from, const AdaptiveOptions& options) {
  check_tree(system);
  require(duration > 0 && options.largest_step > 0, "duration and largest step must be above zero");
  const Model model = compile(system, FrictionTorque{});
  Shaken shaken(model, torque);
  auto state = state_of(model, start);
  shaken.work.mean_crank_speed = start.speed[0];
  for (int i = 0; i < model.dampers; ++i)
    shaken.work.friction[i] = {
        0.0, angle_of(model.damper_ends(i).from, state.data()) - state[static_cast<std::size_t>(model.damper_ends(i).to)]};
  Recorder recorder(model);
  if (record_from <= 0) recorder.keep(0.0, state.data(), shaken);
  const auto observe = [&](double at, const double* now) {
    if (at >= record_from) recorder.keep(at, now, shaken);
  };
  const AdaptiveStats stats = integrate_adaptive(shaken, 0.0, duration, state.data(), options, observe);
  require(stats.end == SteppingEnd::reached, "the integration ended at " + std::to_string(stats.at) + " s of " +
                                                 std::to_string(duration) + " s; try a smaller largest step");
  return recorder.kept;
}

}  // namespace calmshaft
