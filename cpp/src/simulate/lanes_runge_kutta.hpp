// The classical method of fourth order with everything in one state, the work done included. Only for lanes_kernel.cpp.
#pragma once

#include <array>
#include <boost/numeric/odeint/stepper/runge_kutta4.hpp>

#include "lanes_cycle.hpp"

namespace calmshaft::lanes::ISA {

template <class Shape, std::size_t capacity>
class RungeKutta : Cycle<Shape> {
 public:
  using Cycle<Shape>::Cycle, typename Cycle<Shape>::Model;

  void run() {
    const int size = model_.state_size();
    for (int i = 1; i < model_.gas_work_slot(); ++i) slice_.copy(job_.state[i], state_[at(i)]);
    auto reader = this->reader();
    const auto derivative = [this](const State& state, State& rate, double angle) { look(state, rate, angle); };
    for (int i = 0; i < job_.steps; ++i) {
      look(state_, rate_, i * step_);
      i == 0 ? reader.first(work_, state_[0], state_[at(model_.stations)])
             : reader.next(work_, state_[0], state_[at(model_.stations)]);
      this->record(i, state_[0], state_.data() + model_.stations);
      method_.do_step(derivative, state_, rate_, i * step_, step_);
      remember_friction(model_, state_.data(), work_);
    }
    look(state_, rate_, 0.0);
    reader.last(work_, state_[0], state_[at(model_.stations)]);
    this->record(job_.steps, state_[0], state_.data() + model_.stations);
    for (int i = 0; i < size; ++i) slice_.copy(state_[at(i)], job_.state[i]);
    this->keep_memory();
  }

 private:
  using Base = Cycle<Shape>;
  using Base::job_, Base::slice_, Base::step_, Base::model_, Base::work_, Base::drive_at;
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

}  // namespace calmshaft::lanes::ISA
