#include "calmshaft/simulate/time_history.hpp"

#include "calmshaft/core/constants.hpp"
#include "calmshaft/model/dynamics.hpp"
#include "calmshaft/simulate/crank_curve.hpp"
#include "calmshaft/simulate/linear_start.hpp"

namespace calmshaft {
namespace {

constexpr int table_nodes = 11520;

class TimeSystem final : public System {
 public:
  TimeSystem(const ConditionModel& point, double fuelling)
      : point_(point),
        tables_(point.prepared.cycles().tables(point.condition.strengths, table_nodes)),
        curve_(tables_),
        fuelling_(fuelling) {
    work.mean_crank_speed = point.condition.speed;
  }

  const EngineTables& tables() const { return tables_; }
  int size() const override { return point_.model.state_size(); }

  void derivative(double, const double* state, double* rate) override {
    derivative_in_time(point_.model, curve_.at(state[0], fuelling_), state, work, rate);
  }

  void after_step(double, const double* state) override { remember_friction(point_.model, state, work); }

  Workspace<double> work;

 private:
  const ConditionModel& point_;
  EngineTables tables_;
  CrankCurve curve_;
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
