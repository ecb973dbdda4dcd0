#include "calmshaft/simulate/time_history.hpp"

#include <utility>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/model/dynamics.hpp"
#include "calmshaft/simulate/crank_curve.hpp"
#include "calmshaft/simulate/linear_start.hpp"

namespace calmshaft {
namespace {

constexpr int table_nodes = 11520;

// Gains of the trim, as shares of a cycle's change of speed: so weak that an orbit is not stirred, critically damped.
constexpr double proportional_gain = 0.1;  // [-]
constexpr double integral_gain = 0.0025;   // [-]

// Holds the mean speed by trimming the fuelling once a cycle: J dw = F ds T over a cycle of time T.
class Trim {
 public:
  Trim(const ConditionModel& point, const EngineTables& tables, std::optional<double> held_speed)
      : held_(held_speed),
        cycle_(point.cycle_angle),
        inertia_(point.mean_crank_inertia),
        fuelled_torque_(mean_of(tables.fuelled_torque)) {
    const Model& model = point.model;
    for (int i = 1; i < model.stations; ++i) inertia_ += model.inertia[i] * model.speed_ratio[i] * model.speed_ratio[i];
  }

  // True where a cycle has just ended: the state is past its end by less than a step.
  bool ends_cycle(double crank_angle) const { return crank_angle >= (ended_ + 1) * cycle_; }

  // Mean speed [rad/s] of the cycle that has just ended.
  double take_cycle(double at, double crank_angle, double crank_speed) {
    const double end = at - (crank_angle - ++ended_ * cycle_) / crank_speed;
    duration_ = end - std::exchange(last_end_, end);
    return cycle_ / duration_;
  }

  // What to add to the fuelling [-] after a cycle of this mean speed.
  double change(double mean_speed) {
    if (!held_) return 0.0;
    const double before = std::exchange(too_slow_, *held_ - mean_speed);
    const double wanted = proportional_gain * (too_slow_ - before) + integral_gain * too_slow_;
    return wanted * inertia_ / (fuelled_torque_ * duration_);
  }

 private:
  std::optional<double> held_;  // [rad/s]
  double cycle_;                // [rad]
  double inertia_;              // [kg m^2] of the whole line, at the crank
  double fuelled_torque_;       // [N m] mean, at fuelling 1
  int ended_ = 0;               // cycles
  double last_end_ = 0;         // [s]
  double duration_ = 0;         // [s] of the last cycle
  double too_slow_ = 0;         // [rad/s] in the last cycle
};

class TimeSystem final : public System {
 public:
  TimeSystem(const ConditionModel& point, double fuelling, std::optional<double> held_speed)
      : point_(point),
        tables_(point.prepared.cycles().tables(point.condition.strengths, table_nodes)),
        curve_(tables_),
        fuelling_{fuelling},
        trim_(point, tables_, held_speed) {
    work.mean_crank_speed = held_speed.value_or(point.condition.speed);
  }

  const EngineTables& tables() const { return tables_; }
  const std::vector<double>& fuelling() const { return fuelling_; }
  int size() const override { return point_.model.state_size(); }

  void derivative(double, const double* state, double* rate) override {
    derivative_in_time(point_.model, curve_.at(state[0], fuelling_.back()), state, work, rate);
  }

  void after_step(double at, const double* state) override {
    remember_friction(point_.model, state, work);
    if (!trim_.ends_cycle(state[0])) return;
    work.mean_crank_speed = trim_.take_cycle(at, state[0], state[point_.model.stations]);
    fuelling_.push_back(fuelling_.back() + trim_.change(work.mean_crank_speed));
  }

  Workspace<double> work;

 private:
  const ConditionModel& point_;
  EngineTables tables_;
  CrankCurve curve_;
  std::vector<double> fuelling_;  // [-] of each cycle so far
  Trim trim_;
};

// z = (torque - springs - damping - stop) / kt: what the recorded torque leaves for the friction.
FrictionMemory<double> remembered(const Model& model, int plate, const TimeStart& from) {
  const auto& damper = model.damper[plate];
  const auto coupling = static_cast<std::size_t>(model.first_damper() + plate);
  const double twist = from.twist[coupling];
  const Ends ends = model.damper_ends(plate);
  const double rate = from.speed[static_cast<std::size_t>(ends.from)] - from.speed[static_cast<std::size_t>(ends.to)];
  if (!(damper.slider_stiffness > 0)) return {0.0, twist};
  const double friction = from.torque[coupling] - elastic_torque(damper, twist) - damper.damping * rate -
                          gap_torque(damper.stop, damper.drive_stop, damper.coast_stop, twist, rate);
  return {limited(friction / damper.slider_stiffness, -damper.presliding_angle, damper.presliding_angle), twist};
}

StartState start_from(const Model& model, const TimeStart& from) {
  StartState start;
  const Eigen::VectorXd angle = station_angles(model, from.twist);
  for (int i = 0; i < model.stations; ++i) {
    start.state[static_cast<std::size_t>(i)] = angle[i];
    start.state[static_cast<std::size_t>(model.stations + i)] = from.speed[static_cast<std::size_t>(i)];
  }
  for (int i = 0; i < model.dampers; ++i) start.friction[i] = remembered(model, i, from);
  return start;
}

}  // namespace

TimeHistory time_history(const PreparedLine& line, const Condition& condition, double fuelling,
                         const TimeOptions& options) {
  const ConditionModel point(line, condition);
  const Model& model = point.model;
  TimeSystem system(point, fuelling, options.held_speed);
  StartState start = options.start ? start_from(model, *options.start) : linear_start(point, system.tables(), fuelling);
  for (int i = 0; i < model.dampers; ++i) system.work.friction[i] = start.friction[i];
  TimeHistory history;
  history.torque.resize(static_cast<std::size_t>(model.couplings()));
  history.twist.resize(history.torque.size());
  const double keep_from = (options.cycles - options.kept) * point.cycle_angle;
  const double keep_to = options.cycles * point.cycle_angle;
  std::array<double, most_state> rate{};
  bool complete = false;
  const auto observe = [&](double at, const double* state) {
    if (state[0] < keep_from || complete) return;
    complete = state[0] > keep_to;
    system.derivative(at, state, rate.data());
    history.time.push_back(at);
    history.crank_angle.push_back(state[0]);
    for (std::size_t i = 0; i < history.torque.size(); ++i) {
      history.torque[i].push_back(system.work.coupling_torque[i]);
      history.twist[i].push_back(system.work.coupling_twist[i]);
    }
  };
  // Without events: a step of an eighth of the fastest period sees every contact.
  const AdaptiveOptions stepping{options.relative_tolerance, 1e-12, two_pi / point.highest_frequency() / 8.0,
                                 50'000'000};
  const double speed = options.held_speed.value_or(condition.speed);
  const double finish =
      (options.cycles + 1) * point.cycle_angle / speed;  // one more, since the speed may differ a little
  history.stats = integrate_adaptive(system, 0.0, finish, start.state.data(), stepping, observe);
  history.fuelling = system.fuelling();
  history.crank_speed = start.state[static_cast<std::size_t>(model.stations)];
  return history;
}

}  // namespace calmshaft
