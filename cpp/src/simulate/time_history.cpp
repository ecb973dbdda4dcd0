#include "calmshaft/simulate/time_history.hpp"

#include <cmath>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/model/dynamics.hpp"
#include "calmshaft/simulate/linear_start.hpp"

namespace calmshaft {
namespace {

constexpr int table_nodes = 11520;

// Cubic through the four nodes around `place` (in nodes) of a table that repeats.
double between_nodes(const std::vector<double>& table, double place) {
  const auto count = static_cast<long>(table.size());
  const double whole = std::floor(place);
  const double t = place - whole;
  const long node = static_cast<long>(whole);
  const auto at = [&](long i) { return table[static_cast<std::size_t>(((node + i) % count + count) % count)]; };
  const double a = at(-1), b = at(0), c = at(1), d = at(2);
  return b + 0.5 * t * (c - a + t * (2.0 * a - 5.0 * b + 4.0 * c - d + t * (3.0 * (b - c) + d - a)));
}

class TimeSystem final : public System {
 public:
  TimeSystem(const ConditionModel& point, double fuelling)
      : point_(point), tables_(point.prepared.cycles().tables(point.condition.strengths, table_nodes)), fuelling_(fuelling) {
    work.mean_crank_speed = point.condition.speed;
  }

  const EngineTables& tables() const { return tables_; }
  int size() const override { return point_.model.state_size(); }

  void derivative(double, const double* state, double* rate) override {
    const double place = state[0] / tables_.cycle * tables_.nodes;
    const CrankDrive<double> drive{between_nodes(tables_.base_torque, place) +
                                       fuelling_ * between_nodes(tables_.fuelled_torque, place),
                                   between_nodes(tables_.inertia, place), between_nodes(tables_.inertia_slope, place)};
    derivative_in_time(point_.model, drive, state, work, rate);
  }

  void after_step(double, const double* state) override { remember_friction(point_.model, state, work); }

  Workspace<double> work;

 private:
  const ConditionModel& point_;
  EngineTables tables_;
  double fuelling_;
};

}  // namespace

TimeHistory time_history(const PreparedLine& line, const Condition& condition, double fuelling, int cycles, int kept,
                         double relative_tolerance) {
  const ConditionModel point(line, condition);
  TimeSystem system(point, fuelling);
  StartState start = linear_start(point, system.tables(), fuelling);
  for (int i = 0; i < point.model.dampers; ++i) system.work.friction[i] = start.friction[i];
  TimeHistory history;
  history.torque.resize(static_cast<std::size_t>(point.model.couplings()));
  history.twist.resize(history.torque.size());
  const double keep_from = (cycles - kept) * point.cycle_angle;
  std::array<double, most_state> rate{};
  const auto observe = [&](double at, const double* state) {
    if (state[0] < keep_from) return;
    system.derivative(at, state, rate.data());
    history.time.push_back(at);
    history.crank_angle.push_back(state[0]);
    for (std::size_t i = 0; i < history.torque.size(); ++i) {
      history.torque[i].push_back(system.work.coupling_torque[i]);
      history.twist[i].push_back(system.work.coupling_twist[i]);
    }
  };
  // Without events: a step of an eighth of the fastest period sees every contact.
  const AdaptiveOptions options{relative_tolerance, 1e-12, two_pi / point.highest_frequency() / 8.0, 50'000'000};
  const double finish = cycles * point.cycle_angle / condition.speed;
  history.stats = integrate_adaptive(system, 0.0, finish, start.state.data(), options, observe);
  return history;
}

}  // namespace calmshaft
