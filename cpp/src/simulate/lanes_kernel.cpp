// The integration of four sweep points at a time. This file is compiled once for each instruction set, with
// ISA naming it; everything that differs lives in the namespace of that name, so that the linker can never
// put one set's function in another's place. See DEVELOPERS.md, "Two instruction sets in one wheel".
#include <array>
#include <boost/numeric/odeint/stepper/runge_kutta4.hpp>

#include "calmshaft/simulate/cycle_job.hpp"

#ifndef ISA
#error "ISA must name the instruction set"
#endif

namespace calmshaft::lanes::ISA {

struct alignas(32) Pack {
  typedef double Vector __attribute__((vector_size(32), may_alias));
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
static_assert(sizeof(CycleJob<Pack>) == sizeof(CycleJob<Quad>));

// Steps through the cycle with a state array of fixed capacity, so that the compiler can unroll its sums.
template <std::size_t capacity>
class Runner {
 public:
  explicit Runner(CycleJob<Pack>& job)
      : job_(job), nodes_per_radian_(2 * job.steps / job.cycle), size_(static_cast<std::size_t>(job.model.state_size())) {}

  void run() {
    for (std::size_t i = 0; i < size_; ++i) state_[i] = job_.state[i];
    state_[0] = Pack{};
    for (auto i = static_cast<std::size_t>(job_.model.gas_work_slot()); i < capacity; ++i) state_[i] = Pack{};
    step_through();
    for (std::size_t i = 0; i < size_; ++i) job_.state[i] = state_[i];
  }

 private:
  using State = std::array<Pack, capacity>;
  using Method = boost::numeric::odeint::runge_kutta4<State, double, State, double>;

  void step_through() {
    MeterReader<Pack> reader(job_.model, job_.work, job_.meter, job_.watched, job_.steps, job_.bins);
    const double step = job_.cycle / job_.steps;
    const auto derivative = [this](const State& state, State& rate, double at) { this->derivative(state, rate, at); };
    for (int i = 0; i < job_.steps; ++i) {
      const double at = i * step;
      this->derivative(state_, rate_, at);
      i == 0 ? reader.first(state_.data()) : reader.next(state_.data(), false);
      if (job_.recording) record(i);
      method_.do_step(derivative, state_, rate_, at, step);
      remember_friction(job_.model, state_.data(), job_.work);
    }
    this->derivative(state_, rate_, 0.0);
    reader.next(state_.data(), true);
    if (job_.recording) record(job_.steps);
  }

  // Half steps fall on the nodes of the crank's tables; the cycle's end is its beginning.
  void derivative(const State& state, State& rate, double at) {
    const int node = static_cast<int>(at * nodes_per_radian_ + 0.5);
    const CrankNode<Pack>& crank = job_.crank[node < 2 * job_.steps ? node : 0];
    const CrankDrive<Pack> drive{crank.base_torque + job_.fuelling * crank.fuelled_torque, crank.inertia,
                                 crank.inertia_slope};
    derivative_in_crank_angle(job_.model, drive, state.data(), job_.work, rate.data());
    for (std::size_t i = size_; i < capacity; ++i) rate[i] = Pack{};
  }

  void record(int node) {
    const ModelOf<Pack>& model = job_.model;
    Pack* out = job_.recording + static_cast<std::ptrdiff_t>(node) * recorded_channels(model);
    *out++ = state_[0];
    for (int i = 0; i < model.stations; ++i) *out++ = state_[static_cast<std::size_t>(model.stations + i)];
    for (int i = 0; i < model.couplings(); ++i) *out++ = job_.work.coupling_twist[i];
    for (int i = 0; i < model.couplings(); ++i) *out++ = job_.work.coupling_torque[i];
  }

  CycleJob<Pack>& job_;
  double nodes_per_radian_;
  std::size_t size_;
  Method method_;
  State state_{};
  State rate_{};
};

template <std::size_t capacity>
void run_with(CycleJob<Pack>& job) {
  Runner<capacity>(job).run();
}

void run_cycle(CycleJob<Quad>& quads) {
  auto& job = reinterpret_cast<CycleJob<Pack>&>(quads);
  const int size = job.model.state_size();
  if (size <= 12) return run_with<12>(job);
  if (size <= 16) return run_with<16>(job);
  if (size <= 20) return run_with<20>(job);
  if (size <= 24) return run_with<24>(job);
  if (size <= 28) return run_with<28>(job);
  if (size <= 32) return run_with<32>(job);
  if (size <= 40) return run_with<40>(job);
  return run_with<most_state>(job);
}

}  // namespace calmshaft::lanes::ISA
