#include "calmshaft/simulate/lane.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numeric>

#include "calmshaft/core/number.hpp"
#include "calmshaft/simulate/cycle_measures.hpp"
#include "calmshaft/simulate/linear_start.hpp"

namespace calmshaft {
namespace {

constexpr double stall_share = 0.25;     // of the asked speed: below it a piston engine does not run on
constexpr double lift_step = 1.5;        // faster again where the linear start does not get over the first compression
constexpr double most_lift = 2.0;        // of the asked speed
constexpr int shown_cycles = 8;          // recorded of a motion that does not repeat
constexpr double float_share = 0.01;     // of the backlash: a crossing in more than a thousand cycles is a standstill
constexpr double largest_defect = 1e-3;  // of the energy throughput: beyond it the numbers are not those of the line
constexpr double rated_slack = 1e-3;     // of the fuelling: what the search itself calls settled

}  // namespace

void Lane::start(const LanePoint& point) {
  point_ = point;
  job_.in_use[lane_] = true;
  Condition first = point.condition;
  finding_healthy_fuelling_ = first.fuelling == Fuelling::fixed;
  if (finding_healthy_fuelling_) {
    first.strengths.clear();
    first.fuelling = Fuelling::governed;
  }
  load(first, std::numeric_limits<double>::quiet_NaN());
}

void Lane::leave() {
  job_.in_use[lane_] = false;
  search_.reset();
}

// NaN for the fuelling: what balances the mean torques.
void Lane::load(const Condition& condition, double fuelling) {
  model_ = std::make_unique<ConditionModel>(*point_.line, condition);
  tables_ = model_->tables(job_.steps * nodes_per_step(job_.method));
  fuelling_ = std::isnan(fuelling) ? balanced_fuelling(*model_, tables_) : fuelling;
  for_each_value(model_->model, job_.model, [this](double from, Octet& to) { to.lane[lane_] = from; });
  load_crank();
  lift_ = 1.0;
  load_start();
  search_ = std::make_unique<SteadySearch>(setup());
}

void Lane::load_crank() {
  const auto lane = static_cast<std::size_t>(lane_);
  for (std::size_t node = 0; node < crank_.size(); ++node) {
    crank_[node].inertia.lane[lane] = tables_.inertia[node];
    crank_[node].looseness.lane[lane] = 1.0 / (tables_.inertia[node] + model_->model.inertia[0]);
    crank_[node].inertia_slope.lane[lane] = tables_.inertia_slope[node];
    crank_[node].base_torque.lane[lane] = tables_.base_torque[node];
    crank_[node].fuelled_torque.lane[lane] = tables_.fuelled_torque[node];
  }
}

void Lane::load_start() {
  const StartState start = start_state();
  job_.fuelling.lane[lane_] = fuelling_;
  job_.work.mean_crank_speed.lane[lane_] = model_->condition.speed;
  for (int i = 0; i < model_->model.state_size(); ++i)
    job_.state[i].lane[lane_] = start.state[static_cast<std::size_t>(i)];
  for (int i = 0; i < model_->model.stations; ++i)
    job_.state[model_->model.stations + i].lane[lane_] +=
        (lift_ - 1.0) * model_->condition.speed * model_->model.speed_ratio[i];
  for (int i = 0; i < model_->model.dampers; ++i) {
    job_.work.friction[i].slider_twist.lane[lane_] = start.friction[i].slider_twist;
    job_.work.friction[i].coupling_twist.lane[lane_] = start.friction[i].coupling_twist;
  }
  read_state();
}

// The state handed on, all of it turning as much faster as is now asked; the linear solution where there is none.
StartState Lane::start_state() const {
  const Model& model = model_->model;
  const StartState* given = finding_healthy_fuelling_ ? nullptr : point_.start;
  if (!given || given->stations != model.stations || given->dampers != model.dampers)
    return linear_start(*model_, tables_, fuelling_);
  StartState start = *given;
  for (int i = 0; i < model.stations; ++i)
    start.state[static_cast<std::size_t>(model.stations + i)] +=
        (model_->condition.speed - given->speed) * model.speed_ratio[i];
  return start;
}

// Angles and speeds only: clock and works start from zero.
StartState Lane::end_state() const {
  const Model& model = model_->model;
  StartState end;
  std::copy_n(state_.begin(), 2 * model.stations, end.state.begin());
  end.state[0] = 0.0;
  std::copy_n(work_.friction, model.dampers, end.friction);
  end.speed = model_->cycle_angle / search_->period().back().duration;
  end.stations = model.stations;
  end.dampers = model.dampers;
  return end;
}

SearchSetup Lane::setup() const {
  SearchSetup setup{};
  setup.asked_speed = model_->condition.speed;
  setup.cycle_angle = model_->cycle_angle;
  setup.fuelling = model_->condition.fuelling;
  setup.fuelling_slope = mean_of(tables_.fuelled_torque);
  setup.resistance_slope = model_->mean.resistance_slope;
  setup.torque_tolerance = setup.relative_tolerance = 1e-3;
  setup.torque_tolerance *= point_.line->line().engine.rated_torque;
  setup.watched = job_.watched;
  setup.longest = options_.most_cycles;
  const Model& model = model_->model;
  if (const int mesh = job_.watched - model.first_mesh(); mesh >= 0 && mesh < model.meshes) {
    setup.watched_stiffness = model.mesh[mesh].contact.stiffness;
    setup.float_tolerance = float_share * 2.0 * model.mesh[mesh].half_backlash;
  }
  if (model.dampers > 0) {
    setup.plate = model.first_damper();
    setup.twist_tolerance = setup.torque_tolerance / softest_stage(model.damper[0]);
  }
  return setup;
}

// Copies the lane's state out and notes what the next cycle starts with.
void Lane::read_state() {
  const Model& model = model_->model;
  for (int i = 0; i < model.state_size(); ++i) state_[static_cast<std::size_t>(i)] = job_.state[i].lane[lane_];
  for (int i = 0; i < model.dampers; ++i) {
    work_.friction[i].slider_twist = job_.work.friction[i].slider_twist.lane[lane_];
    work_.friction[i].coupling_twist = job_.work.friction[i].coupling_twist.lane[lane_];
  }
  momentum_before_ = momentum();
  stored_before_ = stored_energy(model, tables_.inertia.front(), state_.data(), work_);
  for (int i = 0; i < model.couplings(); ++i)
    coupling_before_[static_cast<std::size_t>(i)] = coupling_energy(model, i, state_.data(), work_);
}

// sum of J_i w_i times speed ratio: what a torque at the crank changes.
double Lane::momentum() const {
  const Model& model = model_->model;
  const double* speed = state_.data() + model.stations;
  double sum = tables_.inertia.front() * speed[0];
  for (int i = 0; i < model.stations; ++i) sum += model.inertia[i] * model.speed_ratio[i] * speed[i];
  return sum;
}

// A mesh by the integral that the steps themselves made, since impacts are too short for a sum over nodes.
double Lane::mean_torque(int coupling) const {
  const int mesh = coupling - model_->model.first_mesh();
  if (mesh < 0) return job_.meter.channel[coupling].torque_sum.lane[lane_] / job_.steps;
  return job_.state[model_->model.turning_slot(mesh)].lane[lane_] / job_.cycle;
}

bool Lane::steps_suffice() const {
  const int needed = model_->steps_per_cycle(step_limits(options_.phase_step));
  return needed > 0 && job_.steps >= needed;
}

CycleTotals Lane::totals() {
  const CycleMeter<Octet>& meter = job_.meter;
  const Model& model = model_->model;
  const auto of = [this](const Octet& octet) { return octet.lane[lane_]; };
  CycleTotals totals;
  totals.speed_least = of(meter.speed_least);
  totals.speed_greatest = of(meter.speed_greatest);
  totals.duration = of(job_.state[0]);
  for (int i = 0; i < model.couplings(); ++i) {
    const auto& from = meter.channel[i];
    totals.channel[static_cast<std::size_t>(i)] = {
        of(from.torque_least),   of(from.torque_greatest), mean_torque(i),      of(from.twist_least),
        of(from.twist_greatest), of(from.drive_time),      of(from.coast_time), 0.0};
  }
  totals.bins.resize(static_cast<std::size_t>(job_.bins));
  const double block = job_.steps / job_.bins;
  for (std::size_t i = 0; i < totals.bins.size(); ++i) totals.bins[i] = of(meter.bin[i]) / block;
  const double momentum_before = momentum_before_, stored_before = stored_before_;
  const auto coupling_before = coupling_before_;
  read_state();
  totals.momentum_change = momentum_before_ - momentum_before;
  for (int i = 0; i < model.couplings(); ++i) {
    const auto c = static_cast<std::size_t>(i);
    totals.channel[c].dissipated =
        state_[static_cast<std::size_t>(model.coupling_work_slot(i))] - (coupling_before_[c] - coupling_before[c]);
  }
  fill_audit(totals, stored_before);
  return totals;
}

void Lane::fill_audit(CycleTotals& totals, double stored_before) {
  const Model& model = model_->model;
  double dissipated = 0.0;
  for (int i = 0; i < model.couplings(); ++i) dissipated += totals.channel[static_cast<std::size_t>(i)].dissipated;
  for (int i = 0; i < model.dampers; ++i)
    totals.dry_friction += state_[static_cast<std::size_t>(model.dry_friction_slot(i))];
  totals.audit = audit_of(model, state_.data(), dissipated, stored_before_ - stored_before);
}

std::optional<SteadyResult> Lane::after_cycle() {
  CycleTotals newest = totals();
  const auto finite = [](double value) { return std::isfinite(value); };
  const bool turns = newest.speed_least > stall_share * model_->condition.speed;
  if (!turns && search_->cycles() == 0 && lift_ < most_lift) {
    lift_ *= lift_step;
    load_start();
    return std::nullopt;
  }
  if (!turns && steps_suffice())
    return unsolved(Status::stalled,
                    "the crank slowed to a quarter of the asked speed: the engine cannot carry this load here");
  if (!std::all_of(state_.begin(), state_.begin() + model_->model.state_size(), finite))
    return unsolved(Status::failed, books_do_not_balance);
  search_->take(std::move(newest));
  if (!search_->settled()) {
    correct(search_->correction());
    return std::nullopt;
  }
  if (finding_healthy_fuelling_) {
    finding_healthy_fuelling_ = false;
    load(point_.condition, fuelling_);
    return std::nullopt;
  }
  const EnergyAudit& audit = search_->period().back().audit;
  if (!(std::fabs(audit.relative_defect()) <= largest_defect)) return unsolved(Status::failed, books_do_not_balance);
  return finish();
}

void Lane::correct(const Correction& correction) {
  const Model& model = model_->model;
  for (int i = 0; i < model.stations; ++i)
    job_.state[model.stations + i].lane[lane_] += correction.speed * model.speed_ratio[i];
  fuelling_ += correction.fuelling;
  job_.fuelling.lane[lane_] = fuelling_;
  if (model_->condition.fuelling == Fuelling::fixed)
    job_.work.mean_crank_speed.lane[lane_] = model_->cycle_angle / search_->period().back().duration;
  read_state();
}

void Lane::hold_speed() {
  if (model_->condition.fuelling == Fuelling::fixed || *search_->settled() != Status::aperiodic) return;
  const Model& model = model_->model;
  const double too_slow = model_->condition.speed - model_->cycle_angle / job_.state[0].lane[lane_];
  for (int i = 0; i < model.stations; ++i)
    job_.state[model.stations + i].lane[lane_] += too_slow * model.speed_ratio[i];
}

int Lane::cycles_to_record() const {
  return *search_->settled() == Status::aperiodic ? shown_cycles : static_cast<int>(search_->period().size());
}

SteadyResult Lane::finish() const {
  SteadyResult result;
  result.status = *search_->settled();
  const bool repeats = result.status != Status::aperiodic;
  const int strokes = point_.line->line().engine.strokes;
  const std::span<const CycleTotals> shown = repeats ? search_->period() : search_->statistics();
  result.orders = orders_of(shown, strokes, job_.steps);
  result.measures = measures_of(model_->model, search_->period(), model_->cycle_angle, result.orders);
  fill_spread(result);
  for (std::size_t m = 0; m < measure_count && !repeats; ++m)  // means stand, peaks are withheld
    result.measures[m] = measure_list[m].peak ? std::numeric_limits<double>::quiet_NaN() : result.spread[m].mean;
  result.fuelling = fuelling_;
  result.overfuelled = fuelling_ > 1.0 + rated_slack;
  result.period_cycles = repeats ? static_cast<int>(search_->period().size()) : 0;
  result.cycles = search_->cycles();
  result.steps_per_cycle = job_.steps;
  result.audit = search_->period().back().audit;
  result.end = end_state();
  return result;
}

void Lane::fill_spread(SteadyResult& result) const {
  const std::span<const CycleTotals> cycles = search_->statistics();
  const int strokes = point_.line->line().engine.strokes;
  std::vector<Measures> by_cycle;
  for (const CycleTotals& cycle : cycles) {
    const std::span<const CycleTotals> one(&cycle, 1);
    const auto orders = orders_of(one, strokes, job_.steps, vibratory_order);
    by_cycle.push_back(measures_of(model_->model, one, model_->cycle_angle, orders));
  }
  std::vector<double> values(by_cycle.size());
  for (std::size_t m = 0; m < measure_count; ++m) {
    std::transform(by_cycle.begin(), by_cycle.end(), values.begin(), [m](const Measures& all) { return all[m]; });
    result.spread[m] = cycle_statistics(values);
  }
}

}  // namespace calmshaft
