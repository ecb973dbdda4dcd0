#include "calmshaft/simulate/manoeuvre_verdict.hpp"

#include <cmath>
#include <sstream>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/core/number.hpp"
#include "calmshaft/simulate/steady.hpp"

namespace calmshaft {
namespace {

constexpr double largest_swing = 0.02;   // [-] of the mean speed, from cycle to cycle: beyond it a governor hunts
constexpr double largest_miss = 0.02;    // [-] of the speed asked
constexpr double largest_defect = 1e-3;  // [-] of the energy throughput

// Rounded to four digits.
std::string say(double value) {
  std::ostringstream text;
  text.precision(4);
  text << value;
  return text.str();
}

std::string when(const History& history) {
  return history.stats.at < 0 ? "while the condition settled, before time 0" : "at " + say(history.stats.at) + " s";
}

// Mean crank speed [rad/s] of each engine cycle that began after `from` [s], one for every firing.
std::vector<double> cycle_speeds(const ManoeuvreSystem& system, double cycle_angle, double from) {
  std::vector<double> speeds;
  const std::vector<double>& firings = system.firings();
  const std::size_t span = system.firings_per_cycle();
  for (std::size_t i = span; i < firings.size(); ++i)
    if (firings[i - span] >= from) speeds.push_back(cycle_angle / (firings[i] - firings[i - span]));
  return speeds;
}

ManoeuvreEnd numbers_failed(const History& history, const ManoeuvreLine& line, std::string& reason) {
  const std::string look = "; look for a stiffness, an inertia or a torque in the wrong unit";
  switch (history.stats.end) {
    case SteppingEnd::budget_spent:
      reason = "the budget of evaluations was spent " + when(history) + ": the line has a vibration at " +
               say(line.highest_frequency / two_pi) + " Hz that needs short steps" + look +
               ", or raise most_evaluations";
      return ManoeuvreEnd::unfinished;
    case SteppingEnd::not_finite:
      reason = "the numbers ran away " + when(history) + look;
      break;
    case SteppingEnd::step_vanished:
      reason = "the steps shrank to nothing " + when(history) + look;
      break;
    default:
      reason = "the line's fastest vibration is no number" + look;
  }
  return ManoeuvreEnd::failed;
}

ManoeuvreEnd stopped(const ManoeuvreMeter& meter, const History& history, const ManoeuvreOptions& options,
                     std::string& reason) {
  if (meter.rests()) return ManoeuvreEnd::at_rest;
  if (!meter.stalled()) {
    reason = "stopped from outside " + when(history);
    return ManoeuvreEnd::interrupted;
  }
  reason = "the crank fell below " + say(options.stall_speed / rpm) + " rpm " + when(history) +
           ": the engine cannot carry this load here";
  return ManoeuvreEnd::stalled;
}

// Whether the speed still swings, or stays away from what was asked with the fuelling at its stop.
ManoeuvreEnd settled(const ManoeuvreLine& line, const ManoeuvreSystem& system, const Schedule& schedule,
                     const ManoeuvreOptions& options, std::string& reason) {
  const std::vector<double> changes = changes_of(schedule);
  const double since = changes.size() > 1 ? changes[changes.size() - 2] : 0.0;
  const double half = 0.5 * (since + schedule.duration);
  const std::vector<double> speeds = cycle_speeds(system, line.start.cycle_angle, half);
  if (speeds.empty() || !system.fuel_on(schedule.duration)) return ManoeuvreEnd::finished;
  const double mean = mean_of(speeds), swing = lasting_swing(speeds, largest_swing * mean);
  if (swing > 0) {
    reason = "the speed still swings by " + say(100.0 * swing / mean) +
             " % at the end: the governor hunts, or has not "
             "come to rest; give it more time, or more droop or less lag";
    return ManoeuvreEnd::hunting;
  }
  const double asked = system.asked_speed(schedule.duration);
  if (std::fabs(speeds.back() - asked) > largest_miss * asked &&
      system.fuelling() > (1.0 - 1e-3) * options.governor.most_fuelling)
    reason = "the speed at the end is " + say(speeds.back() / rpm) + " rpm where " + say(asked / rpm) +
             " rpm was asked: the fuelling is at its stop";
  return ManoeuvreEnd::finished;
}

}  // namespace

double lasting_swing(std::span<const double> values, double threshold) {
  if (values.empty()) return 0.0;
  double swing = 0.0, turn = values.front(), extreme = turn;  // last turning point, furthest value since
  int direction = 0, turns = 0;
  for (const double value : values) {
    if (direction == 0) {
      if (std::fabs(value - turn) > threshold) direction = value > turn ? 1 : -1, extreme = value;
    } else if ((value - extreme) * direction > 0) {
      extreme = value;
    } else if ((extreme - value) * direction > threshold) {
      ++turns;
      swing = std::fabs(extreme - turn);
      turn = extreme, extreme = value, direction = -direction;
    }
  }
  return turns >= 2 ? swing : 0.0;
}

void judge(History& history, const ManoeuvreLine& line, const ManoeuvreSystem& system, const ManoeuvreMeter& meter,
           const Schedule& schedule, const ManoeuvreOptions& options) {
  const SteppingEnd end = history.stats.end;
  if (end == SteppingEnd::stopped)
    history.status = stopped(meter, history, options, history.reason);
  else if (end == SteppingEnd::reached)
    history.status = settled(line, system, schedule, options, history.reason);
  else
    history.status = numbers_failed(history, line, history.reason);
  if (end != SteppingEnd::not_finite && !(std::fabs(history.audit.relative_defect()) <= largest_defect)) {
    history.status = ManoeuvreEnd::failed;
    history.reason = books_do_not_balance;
  }
}

}  // namespace calmshaft
