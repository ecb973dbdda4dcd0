// The torque that teeth reach when they strike: steps as long as an impact itself miss its peak.
#pragma once

#include <array>
#include <boost/numeric/odeint/stepper/runge_kutta4.hpp>

#include "calmshaft/simulate/cycle_meter.hpp"

namespace calmshaft {

// How fast the teeth meet, and what all torques but theirs accelerate them by meanwhile.
template <class Real>
struct Impact {
  Real speed;   // [rad/s]
  Real others;  // [rad/s^2]
};

// Greatest torque [N m] of Hunt-Crossley's law from first contact on, with the other torques held:
//   x' = v    v' = a - L T    T = k x max(0, 1 + chi v)
// The faster teeth meet, the sooner the damping makes it peak. `step` [s] is the one that is too long to see it,
// `looseness` [1/(kg m^2)] that of the mesh.
template <class Contact, class Real>
Real impact_peak(const Contact& contact, const Impact<Real>& impact, Real looseness, Real step) {
  using State = std::array<Real, 2>;  // x [rad], v [rad/s]
  constexpr int moments = 16;
  const Real moment = 0.2 * step / (1.0 + (1.0 / 6.0) * contact.damping_factor * impact.speed);
  const auto law = [&](const State& at) {
    return contact.stiffness * at[0] * larger(1.0 + contact.damping_factor * at[1], Real{});
  };
  const auto motion = [&](const State& at, State& rate, double) {
    rate = {moment * at[1], moment * (impact.others - looseness * law(at))};
  };
  boost::numeric::odeint::runge_kutta4<State, double, State, double> method;
  State at{Real{}, impact.speed};
  Real torque[4]{}, peak{};
  for (int i = 0; i < moments; ++i) {
    method.do_step(motion, at, 0.0, 1.0);
    torque[0] = torque[1], torque[1] = torque[2], torque[2] = torque[3], torque[3] = law(at);
    peak = larger(peak, larger(torque[3], extreme_between(torque[0], torque[1], torque[2], torque[3])));
  }
  return peak;
}

// A node of the march and the way to the next one.
template <class Real>
struct Departure {
  const Real* speed;      // [rad/s] of the stations on the way
  const Real* half_gain;  // [rad/s] from half a step before the node to it
  Real duration;          // [s] of the step
};

// The hardest impact of a cycle on either flank of every mesh. Only that one is looked at closely, once the cycle is
// over.
template <class Model, class Real>
class HardestImpacts {
 public:
  // Mesh i at a node, `looseness` [1/(kg m^2)] its own: takes teeth that are apart there and meet before the next node.
  // For lanes whose teeth are not LeapingMeshes::near() it changes nothing, so that the others cannot matter to them.
  void watch(const Model& model, int i, const Departure<Real>& from, Real looseness, const Workspace<Real>& work) {
    const auto& mesh = model.mesh[i];
    const int index = model.first_mesh() + i;
    const Ends ends = model.mesh_ends(i);
    const Real twist = work.coupling_twist[index];
    const auto towards = [&](Real value) { return where_positive(twist, value, -value); };
    const auto of_mesh = [&](const Real* values) { return towards(values[ends.from] - mesh.ratio * values[ends.to]); };
    const Real gap = mesh.half_backlash - magnitude(twist);
    const Real near = 2.0 * from.duration * magnitude(work.coupling_rate[index]) - gap;
    const Real meeting = smaller(near, smaller(gap, from.duration * of_mesh(from.speed) - gap));
    if (!any_positive(meeting)) return;
    const Real others =
        2.0 * of_mesh(from.half_gain) / from.duration + looseness * towards(work.coupling_torque[index]);
    const Real impact = meeting_speed(towards(work.coupling_rate[index]), others, gap, from.duration);
    const Real hardness = impact + 2.0 * from.duration * larger(others, Real{});
    drive_[i].take(smaller(meeting, twist), hardness, {impact, others});
    coast_[i].take(smaller(meeting, -twist), hardness, {impact, others});
  }

  // Widens what the nodes showed of mesh i, where it was struck.
  void add(const Model& model, int i, Real looseness, Real step, Real& least, Real& greatest) const {
    const auto peak = [&](const Hardest& one) {
      return impact_peak(model.mesh[i].contact, one.impact, looseness, step);
    };
    if (const Real& hard = drive_[i].hardness; any_positive(hard))
      greatest = where_positive(hard, larger(greatest, peak(drive_[i])), greatest);
    if (const Real& hard = coast_[i].hardness; any_positive(hard))
      least = where_positive(hard, smaller(least, -peak(coast_[i])), least);
  }

 private:
  struct Hardest {
    Real hardness{};  // [rad/s] roughly by what the torque grows; 0: none
    Impact<Real> impact{};

    void take(Real if_positive, Real newest, const Impact<Real>& of) {
      const Real harder = smaller(if_positive, newest - hardness);
      hardness = where_positive(harder, newest, hardness);
      impact = {where_positive(harder, of.speed, impact.speed), where_positive(harder, of.others, impact.others)};
    }
  };

  // From a speed half a step before the node, over half a step and the gap: v + a t with t = gap / v, a step at most.
  static Real meeting_speed(Real speed, Real others, Real gap, Real duration) {
    const Real apart = speed + 0.5 * duration * others, most = magnitude(others) * duration;
    return larger(apart + limited(others * gap / larger(apart, Real{} + 1e-9), -most, most), Real{});
  }

  Hardest drive_[most_couplings], coast_[most_couplings];
};

}  // namespace calmshaft
