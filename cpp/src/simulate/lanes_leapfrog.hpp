// The leapfrog. Speeds stand half a step ahead of angles, so that one look at the torques a step makes a method of
// second order that keeps energy: angle += h speed, speed += h torque / inertia. Torques that depend on speed take it
// at the node, carried there by the last acceleration; teeth solve for it. Odeint calls this the symplectic Euler
// method. Only for lanes_kernel.cpp.
#pragma once

#include <array>
#include <boost/numeric/odeint/stepper/symplectic_euler.hpp>

#include "calmshaft/simulate/leaping_meshes.hpp"
#include "hardest_impacts.hpp"
#include "lanes_cycle.hpp"

namespace calmshaft::lanes::ISA {

template <class Shape, std::size_t capacity>
class Leapfrog : Cycle<Shape> {
 public:
  using Cycle<Shape>::Cycle, typename Cycle<Shape>::Model;

  void run() {
    load();
    auto reader = this->reader();
    start(reader);
    for (int node = 1; node < job_.steps; ++node) {
      step_to(node);
      reader.next(work_, angle_[0], node_speed_[0]);
      watch_impacts();
      end_node(node, 1.0);
    }
    step_to(job_.steps);
    reader.last(work_, angle_[0], node_speed_[0]);
    end_node(job_.steps, 0.5);
    add_impacts();
    unload();
  }

 private:
  using Base = Cycle<Shape>;
  using Base::job_, Base::slice_, Base::step_, Base::model_, Base::work_, Base::meter_;
  using Stations = std::array<Pack, capacity>;
  using Method = boost::numeric::odeint::symplectic_euler<Stations, Stations, double, Stations, Stations, double>;

  static constexpr std::size_t at(int index) { return static_cast<std::size_t>(index); }

  template <class Visit>
  void each_station(const Visit& visit) const {
    repeat(model_.stations, visit);
  }

  void load() {
    angle_[0] = Pack{};
    each_driven_station(model_, [&](int i) {
      slice_.copy(job_.state[i], angle_[i]);
      looseness_[i] = model_.inverse_inertia[i];
    });
    each_station([&](int i) { slice_.copy(job_.state[model_.stations + i], node_speed_[i]); });
  }

  void unload() {
    each_station([&](int i) {
      slice_.copy(angle_[i], job_.state[i]);
      slice_.copy(node_speed_[i], job_.state[model_.stations + i]);
    });
    visit_powers(model_, drive_, node_speed_, work_,
                 [&](int slot, Pack) { slice_.copy(work_done_[slot - model_.gas_work_slot()], job_.state[slot]); });
    repeat(model_.meshes, [&](int i) {
      slice_.copy(step_ * meter_.channel[model_.first_mesh() + i].torque_sum, job_.state[model_.turning_slot(i)]);
    });
    this->keep_memory();
  }

  // Only the speeds at the node are known: those half a step before follow from the torques, and the torques from them.
  void start(typename Base::Reader& reader) {
    each_coupling(model_, [&](int i) { work_.coupling_torque[i] = Pack{}; });
    each_station([&](int i) { half_gain_[i] = Pack{}; });
    for (const double back : {0.0, 0.5, 0.5}) {
      Pack gain[capacity];
      each_station([&](int i) { speed_[i] = node_speed_[i] - half_gain_[i]; });
      look(0, back, angle_, speed_, gain);
      each_station([&](int i) { half_gain_[i] = 0.5 * gain[i]; });
    }
    reader.first(work_, angle_[0], node_speed_[0]);
    each_station([&](int i) { speed_[i] = node_speed_[i] + half_gain_[i]; });
    watch_impacts();
    end_node(0, 0.5);
  }

  // Counted in steps, so that the method's step is 1. On copies that end with it, or the compiler writes every value to
  // memory.
  void step_to(int node) {
    Stations angle, speed;
    each_station([&](int i) { angle[at(i)] = angle_[i], speed[at(i)] = speed_[i]; });
    const auto drift = [this](const Stations& ahead, Stations& turn) {
      const Pack duration = step_ / ahead[0];
      turn[0] = duration;  // the clock in the crank's place
      each_driven_station(model_,
                          [&](int i) { turn[at(i)] = ahead[at(i)] * duration - step_ * model_.speed_ratio[i]; });
    };
    const auto kick = [&](const Stations& drifted, Stations& gain) {
      each_station([&](int i) { node_speed_[i] = speed_[i] + half_gain_[i]; });
      look(node, 0.5, drifted.data(), speed_, gain.data());
      each_station([&](int i) { half_gain_[i] = 0.5 * gain[at(i)]; });
    };
    Method().do_step(std::make_pair(drift, kick), angle, speed, 0.0, 1.0);
    each_station([&](int i) {
      angle_[i] = angle[at(i)], speed_[i] = speed[at(i)];
      node_speed_[i] = speed_[i] - half_gain_[i];
    });
  }

  void watch_impacts() {
    repeat(model_.meshes, [&](int i) {
      if (meshes_.near(i)) impacts_.watch(model_, i, {speed_, half_gain_, duration_}, looseness(i), work_);
    });
  }

  void add_impacts() {
    repeat(model_.meshes, [&](int i) {
      auto& channel = meter_.channel[model_.first_mesh() + i];
      impacts_.add(model_, i, looseness(i), duration_, channel.torque_least, channel.torque_greatest);
    });
  }

  Pack looseness(int mesh) const {
    const Ends ends = model_.mesh_ends(mesh);
    const Pack ratio = model_.mesh[mesh].ratio;
    return looseness_[ends.from] + ratio * ratio * looseness_[ends.to];
  }

  // What the speeds gain in a step whose node lies `back` steps after `speed`. The cycle's end is its beginning.
  void look(int node, double back, const Pack* angle, const Pack* speed, Pack* gain) {
    const int place = node < job_.steps ? node : 0;
    drive_ = this->drive_at(place);
    slice_.copy(job_.crank[place].looseness, looseness_[0]);
    duration_ = step_ / node_speed_[0];
    meshes_.meet(model_, Leap<Pack>{angle, speed, half_gain_, looseness_, back * duration_, duration_}, work_);
    apply_all_but_meshes(model_, drive_, angle, node_speed_, work_);
    meshes_.apply(model_, looseness_, work_);
    accelerate(model_, looseness_[0], work_, gain);
    each_station([&](int i) { gain[i] = gain[i] * duration_; });
  }

  // The torques are held over the step, so the work is theirs times the turn over it.
  void end_node(int node, double share) {
    this->record(node, angle_[0], node_speed_);
    remember_friction(model_, angle_, work_);
    Pack turn[capacity];
    turn[0] = Pack(share * step_);
    const Pack duration = share * duration_;
    each_driven_station(model_, [&](int i) { turn[i] = node_speed_[i] * duration; });
    visit_powers(model_, drive_, turn, work_, [&](int slot, Pack work) {
      Pack& done = work_done_[slot - model_.gas_work_slot()];
      done = done + work;
    });
  }

  Pack angle_[capacity];       // [rad] at the node; slot 0 is the clock [s]
  Pack speed_[capacity];       // [rad/s] half a step later
  Pack node_speed_[capacity];  // [rad/s] at the node
  Pack half_gain_[capacity];   // [rad/s] of the speeds from half a step before the node to it
  Pack looseness_[capacity];   // [1/(kg m^2)]
  LeapingMeshes<Model, Pack> meshes_;
  HardestImpacts<Model, Pack> impacts_;  // of this cycle
  CrankDrive<Pack> drive_;
  Pack duration_;                      // [s] of the step around the node
  Pack work_done_[most_work_slots]{};  // [J]
};

}  // namespace calmshaft::lanes::ISA
