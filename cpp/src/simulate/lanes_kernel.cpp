// The integration of four sweep points at a time. This file is compiled once for each instruction set, with
// ISA naming it; everything that differs lives in the namespace of that name, so that the linker can never
// put one set's function in another's place. See DEVELOPERS.md, "Two instruction sets in one wheel".
#include <algorithm>
#include <array>
#include <boost/numeric/odeint/stepper/runge_kutta4.hpp>
#include <boost/numeric/odeint/stepper/symplectic_euler.hpp>
#include <cstring>

#include "calmshaft/simulate/cycle_job.hpp"
#include "calmshaft/simulate/driven_line.hpp"

#ifndef ISA
#error "ISA must name the instruction set"
#endif

namespace calmshaft::lanes::ISA {

struct alignas(32) Pack {
  typedef double Vector __attribute__((vector_size(32)));
  Vector v;

  Pack() = default;
  Pack(Vector vector) : v(vector) {}
  Pack(double value) : v{value, value, value, value} {}

  friend Pack operator+(Pack a, Pack b) { return a.v + b.v; }
  friend Pack operator-(Pack a, Pack b) { return a.v - b.v; }
  friend Pack operator*(Pack a, Pack b) { return a.v * b.v; }
  friend Pack operator/(Pack a, Pack b) { return a.v / b.v; }
  Pack operator-() const { return -v; }
};

inline Pack larger(Pack a, Pack b) { return a.v > b.v ? a.v : b.v; }
inline Pack smaller(Pack a, Pack b) { return a.v < b.v ? a.v : b.v; }
inline Pack where_positive(Pack test, Pack a, Pack b) { return test.v > Pack{}.v ? a.v : b.v; }
inline Pack limited(Pack a, Pack low, Pack high) { return smaller(larger(a, low), high); }
inline Pack magnitude(Pack a) { return larger(a, -a); }

static_assert(sizeof(Pack) == sizeof(Quad) && alignof(Pack) == alignof(Quad));
static_assert(sizeof(CycleMeter<Pack>) == sizeof(CycleMeter<Quad>));

inline void copy(const Quad& from, Pack& to) { std::memcpy(&to, &from, sizeof to); }
inline void copy(const Pack& from, Quad& to) { std::memcpy(&to, &from, sizeof to); }

// One cycle of a job: what both methods share. Works on copies, so that the compiler knows that nothing else
// changes them and can keep them in registers.
template <class Shape>
class Cycle {
 public:
  explicit Cycle(CycleJob<Quad>& job) : job_(job), step_(job.cycle / job.steps) {
    if constexpr (std::is_same_v<Shape, AnyShape>) static_cast<AnyShape&>(model_) = job.model;
    copy_sides(job.model, model_);
    for_each_value(job.model, model_, [](const Quad& from, Pack& to) { copy(from, to); });
    copy(job.fuelling, fuelling_);
    copy(job.work.mean_crank_speed, work_.mean_crank_speed);
    for (int i = 0; i < model_.dampers; ++i) {
      copy(job.work.friction[i].slider_twist, work_.friction[i].slider_twist);
      copy(job.work.friction[i].coupling_twist, work_.friction[i].coupling_twist);
    }
  }

 protected:
  using Model = ModelOf<Pack, Shape>;
  using Reader = MeterReader<Model, Pack>;

  Reader reader() {
    return {model_, work_, meter_, job_.watched, job_.steps / steps_per_reading(job_.method), job_.bins};
  }

  CrankDrive<Pack> drive_at(int node) const {
    Pack inertia, slope, base, fuelled;
    const CrankNode<Quad>& crank = job_.crank[node];
    copy(crank.inertia, inertia), copy(crank.inertia_slope, slope);
    copy(crank.base_torque, base), copy(crank.fuelled_torque, fuelled);
    return {base + fuelling_ * fuelled, inertia, slope};
  }

  void record(int node, const Pack* angle, const Pack* speed) {
    if (!job_.recording) return;
    Quad* out = job_.recording + static_cast<std::ptrdiff_t>(node) * recorded_channels(model_);
    copy(angle[0], *out++);
    for (int i = 0; i < model_.stations; ++i) copy(speed[i], *out++);
    for (int i = 0; i < model_.couplings(); ++i) copy(work_.coupling_twist[i], *out++);
    for (int i = 0; i < model_.couplings(); ++i) copy(work_.coupling_torque[i], *out++);
  }

  void keep_memory() {
    for (int i = 0; i < model_.dampers; ++i) {
      copy(work_.friction[i].slider_twist, job_.work.friction[i].slider_twist);
      copy(work_.friction[i].coupling_twist, job_.work.friction[i].coupling_twist);
    }
    std::memcpy(&job_.meter, &meter_, sizeof meter_);
  }

  CycleJob<Quad>& job_;
  double step_;  // [rad]
  Model model_;
  Pack fuelling_;
  Workspace<Pack> work_;
  CycleMeter<Pack> meter_;
};

// Speeds stand half a step ahead of angles, so that one look at the torques a step makes a method of second order
// that keeps energy: angle += h speed, speed += h torque / inertia. Torques that depend on speed take it at the node,
// carried there by the last acceleration. Odeint calls this the symplectic Euler method.
template <class Shape, std::size_t capacity>
class Leapfrog : Cycle<Shape> {
 public:
  using Cycle<Shape>::Cycle;

  void run() {
    const int n = model_.stations;
    for (int i = 1; i < n; ++i) copy(job_.state[i], angle_[at(i)]);
    for (int i = 0; i < n; ++i) copy(job_.state[n + i], node_speed_[i]);
    auto reader = this->reader();
    look(0, angle_.data(), rate_.data());
    reader.first(angle_[0], node_speed_[0]);
    for (int i = 0; i < n; ++i) speed_[at(i)] = node_speed_[i] + 0.5 * step_ * rate_[at(i)];
    end_node(0, 0.5);
    step_through(reader);
    for (int i = 0; i < n; ++i) copy(angle_[at(i)], job_.state[i]);
    for (int i = 0; i < n; ++i) copy(node_speed_[i], job_.state[n + i]);
    for (int i = 2 * n; i < model_.state_size(); ++i) copy(work_done_[i - 2 * n], job_.state[i]);
    this->keep_memory();
  }

 private:
  using Base = Cycle<Shape>;
  using Base::job_, Base::step_, Base::model_, Base::work_;
  using Stations = std::array<Pack, capacity>;
  using Method = boost::numeric::odeint::symplectic_euler<Stations, Stations, double, Stations, Stations, double>;

  static constexpr std::size_t at(int index) { return static_cast<std::size_t>(index); }

  void step_through(typename Base::Reader& reader) {
    int node = 0;
    const auto drift = [this](const Stations& ahead, Stations& rate) { this->drift(ahead, rate); };
    const auto kick = [&](const Stations& angle, Stations& rate) {
      for (int i = 0; i < model_.stations; ++i) node_speed_[i] = speed_[at(i)] + 0.5 * step_ * rate_[at(i)];
      look(node, angle.data(), rate.data());
      rate_ = rate;
    };
    const auto system = std::make_pair(drift, kick);
    while (node < job_.steps) {
      ++node;
      method_.do_step(system, angle_, speed_, 0.0, step_);
      for (int i = 0; i < model_.stations; ++i) node_speed_[i] = speed_[at(i)] - 0.5 * step_ * rate_[at(i)];
      if (node % steps_per_reading(calmshaft::Method::leapfrog) == 0)
        reader.next(angle_[0], node_speed_[0], node == job_.steps);
      end_node(node, node == job_.steps ? 0.5 : 1.0);
    }
  }

  // Angles over crank angle, and the clock in the crank's place.
  void drift(const Stations& ahead, Stations& rate) const {
    const Pack slowness = 1.0 / ahead[0];
    rate[0] = slowness;
    for (int i = 1; i < model_.stations; ++i) rate[at(i)] = ahead[at(i)] * slowness - model_.speed_ratio[i];
  }

  // Speeds over crank angle. The cycle's end is its beginning.
  void look(int node, const Pack* angle, Pack* rate) {
    drive_ = this->drive_at(node < job_.steps ? node : 0);
    slowness_ = 1.0 / node_speed_[0];
    apply_torques(model_, drive_, angle, node_speed_, work_);
    accelerate(model_, drive_, node_speed_, work_, rate);
    for (int i = 0; i < model_.stations; ++i) rate[i] = rate[i] * slowness_;
  }

  void end_node(int node, double share) {
    this->record(node, angle_.data(), node_speed_);
    remember_friction(model_, angle_.data(), work_);
    Pack power[most_work_slots];
    write_powers(model_, drive_, node_speed_, work_, power);
    const Pack duration = share * step_ * slowness_;
    for (int i = 0; i < model_.state_size() - 2 * model_.stations; ++i)
      work_done_[i] = work_done_[i] + duration * power[i];
  }

  Method method_;
  Stations angle_{}, speed_{}, rate_{};  // slot 0 of the angles is the clock
  Pack node_speed_[capacity];
  CrankDrive<Pack> drive_;
  Pack slowness_;
  Pack work_done_[most_work_slots]{};
};

// The classical method with everything in one state, the work done included.
template <class Shape, std::size_t capacity>
class RungeKutta : Cycle<Shape> {
 public:
  using Cycle<Shape>::Cycle;

  void run() {
    const int size = model_.state_size();
    for (int i = 1; i < model_.gas_work_slot(); ++i) copy(job_.state[i], state_[at(i)]);
    auto reader = this->reader();
    const auto derivative = [this](const State& state, State& rate, double angle) { look(state, rate, angle); };
    for (int i = 0; i < job_.steps; ++i) {
      look(state_, rate_, i * step_);
      i == 0 ? reader.first(state_[0], state_[at(model_.stations)])
             : reader.next(state_[0], state_[at(model_.stations)], false);
      this->record(i, state_.data(), state_.data() + model_.stations);
      method_.do_step(derivative, state_, rate_, i * step_, step_);
      remember_friction(model_, state_.data(), work_);
    }
    look(state_, rate_, 0.0);
    reader.next(state_[0], state_[at(model_.stations)], true);
    this->record(job_.steps, state_.data(), state_.data() + model_.stations);
    for (int i = 0; i < size; ++i) copy(state_[at(i)], job_.state[i]);
    this->keep_memory();
  }

 private:
  using Base = Cycle<Shape>;
  using Base::job_, Base::step_, Base::model_, Base::work_, Base::drive_at;
  using State = std::array<Pack, capacity>;
  using Method = boost::numeric::odeint::runge_kutta4<State, double, State, double>;

  static constexpr std::size_t at(int index) { return static_cast<std::size_t>(index); }

  // Half steps fall on the nodes of the crank's tables; the cycle's end is its beginning.
  void look(const State& state, State& rate, double angle) {
    const int node = static_cast<int>(angle * (2.0 / step_) + 0.5);
    derivative_in_crank_angle(model_, drive_at(node < 2 * job_.steps ? node : 0), state.data(), work_, rate.data());
  }

  Method method_;
  State state_{}, rate_{};
};

// Everything inlined: functions that are called cannot keep packs in registers.
template <class Method>
__attribute__((flatten)) void run_inlined(Method method) {
  method.run();
}

template <class Shape>
constexpr std::size_t state_size_of = 2 * Shape::stations + 2 + Shape::springs + 2 * Shape::dampers +
                                      2 * Shape::meshes + Shape::square_loads + Shape::drags;

template <class Shape>
bool run_shaped(CycleJob<Quad>& job) {
  if (!have_same_joints(job.model, Shape{})) return false;
  if (job.method == Method::runge_kutta)
    run_inlined(RungeKutta<Shape, state_size_of<Shape>>(job));
  else
    run_inlined(Leapfrog<Shape, Shape::stations>(job));
  return true;
}

// Arrays that are not much larger than the line.
void run_any_shape(CycleJob<Quad>& job) {
  if (job.method == Method::leapfrog && job.model.stations <= 8) return run_inlined(Leapfrog<AnyShape, 8>(job));
  if (job.method == Method::leapfrog) return run_inlined(Leapfrog<AnyShape, most_stations>(job));
  const int size = job.model.state_size();
  if (size <= 16) return run_inlined(RungeKutta<AnyShape, 16>(job));
  if (size <= 24) return run_inlined(RungeKutta<AnyShape, 24>(job));
  if (size <= 32) return run_inlined(RungeKutta<AnyShape, 32>(job));
  if (size <= 40) return run_inlined(RungeKutta<AnyShape, 40>(job));
  run_inlined(RungeKutta<AnyShape, most_state>(job));
}

void run_cycle(CycleJob<Quad>& job) {
  if (run_shaped<DrivenLine<true, 1>>(job) || run_shaped<DrivenLine<false, 1>>(job)) return;
  run_any_shape(job);
}

}  // namespace calmshaft::lanes::ISA
