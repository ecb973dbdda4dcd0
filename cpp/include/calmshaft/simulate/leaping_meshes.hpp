// Tooth contact for steps that look at the torques once: what a mesh's torque is on average over one such step.
#pragma once

#include "calmshaft/model/dynamics.hpp"

namespace calmshaft {

// A leap from half a step before a node to half a step after it. The torque is held over it.
template <class Real>
struct Leap {
  const Real* angle;      // [rad] at the node
  const Real* speed;      // [rad/s] at the leap's start
  const Real* gained;     // [rad/s] in the half step before
  const Real* looseness;  // [1/(kg m^2)] over the inertia of every station
  Real half_step;         // [s] from the start to the node
  Real step;              // [s]
};

template <class Real>
struct SweptContact {
  Real depth, share;  // [rad] mean depth, [-] of the way that is in contact
};

// From `reach` [rad] before to `reach` after `depth`, below zero without contact, the node's surroundings counting
// most: weights 1 - |s|, s = -1..1 a step before to a step after, as a second difference of the motion weighs its
// acceleration. Most steps touch or leave in no lane.
template <class Real>
SweptContact<Real> swept_contact(Real depth, Real reach) {
  const Real size = magnitude(depth), touching = larger(depth, Real{});
  SweptContact<Real> swept{touching, where_positive(depth, Real{} + 1.0, Real{})};
  if (any_positive(reach - size)) {
    const Real rest = larger(1.0 - size / (reach + 1e-30), Real{});  // [-] of the way beyond the flank, or short of it
    const Real share = 0.5 * rest * rest;
    swept.share = where_positive(depth, 1.0 - share, share);
    swept.depth = touching + reach * (1.0 / 3.0) * share * rest;
  }
  return swept;
}

// Hunt-Crossley on what the step sweeps instead of on the node, so that it does not matter where in a step teeth meet.
// Its rate at the node holds the torque asked for, and so does the bend of the motion within the step, which Numerov's
// formula takes as b = h^2/12 of the second difference. Both are linear in the torque T, so it is solved for:
//   T = k c g + k (chi g h_0 + (3 c - 2) m b) (a - L T)        c = max(0, 1 + chi rate)
// g mean depth, m share of the step in contact, rate at the step's start, but a quarter of a step later for the way, L
// looseness of the mesh, a what all other torques accelerate it by, h step, h_0 half a step. The second difference of
// depth times rate is that of the depth with 3 chi rate, less k L chi rate g; the rate at the node, a mean of two,
// lacks 2 k L b of itself: chi (1 + k L m b).
template <class Model, class Real>
class LeapingMeshes {
 public:
  // All that does not need the other torques at the node, so that processors work it out beside them.
  void meet(const Model& model, const Leap<Real>& leap, Workspace<Real>& work) {
    repeat(model.meshes, [&](int i) {
      read_twist(model.first_mesh() + i, model.mesh_ends(i), model.mesh[i].ratio, leap.angle, leap.speed, work);
      meet(model, i, leap, work);
    });
  }

  // One mesh after the other, each with the newest torques of the others, the loaded one last.
  void apply(const Model& model, const Real* looseness, Workspace<Real>& work) {
    repeat(model.meshes, [&](int i) {
      const int index = model.first_mesh() + i;
      apply_coupling(index, model.mesh_ends(i), model.mesh[i].ratio, work.coupling_torque[index], work);
    });
    repeat(model.meshes, [&](int nth) { renew(model, model.meshes - 1 - nth, looseness, work); });
  }

  // Whether teeth may meet before the next node.
  bool near(int i) const { return teeth_[i].near; }

 private:
  struct Teeth {
    Real looseness;           // [1/(kg m^2)] L
    Real torque, per_others;  // [N m], [N m s^2/rad] without the other torques, and what they add
    Real least, greatest;     // [N m] teeth push only
    bool near;                // apart by less than two steps in some lane
  };

  void meet(const Model& model, int i, const Leap<Real>& leap, Workspace<Real>& work) {
    const auto& mesh = model.mesh[i];
    const int index = model.first_mesh() + i;
    Teeth& teeth = teeth_[i];
    teeth.looseness =
        leap.looseness[model.mesh_ends(i).from] + mesh.ratio * mesh.ratio * leap.looseness[model.mesh_ends(i).to];
    const Real twist = work.coupling_twist[index], size = magnitude(twist) - mesh.half_backlash;
    const Real rate = work.coupling_rate[index];
    const Real gained = leap.gained[model.mesh_ends(i).from] - mesh.ratio * leap.gained[model.mesh_ends(i).to];
    const Real reach = leap.step * magnitude(rate + 0.5 * gained);
    const SweptContact<Real> swept = swept_contact(size, reach);
    teeth.near = any_positive(smaller(2.0 * leap.step * magnitude(rate) + size, -size));
    const Real bend = leap.step * leap.step * (1.0 / 12.0) * swept.share;
    const Real quickness = mesh.contact.stiffness * teeth.looseness;
    const Real damping = mesh.contact.damping_factor * (1.0 + quickness * bend);
    const Real closing = larger(1.0 + damping * where_positive(twist, rate, -rate), Real{});
    const Real held = damping * swept.depth * leap.half_step + larger(3.0 * closing - 2.0, Real{}) * bend;
    const Real stiffness = mesh.contact.stiffness / (1.0 + quickness * held);
    const Real torque = stiffness * closing * swept.depth, most = Real{} + 1e30, depth = larger(size, Real{});
    teeth.torque = where_positive(twist, torque, -torque);
    teeth.per_others = stiffness * held;
    teeth.least = where_positive(twist, Real{}, -most);
    teeth.greatest = where_positive(twist, most, Real{});
    work.coupling_depth[index] = where_positive(twist, depth, -depth);
  }

  void renew(const Model& model, int i, const Real* looseness, Workspace<Real>& work) {
    const Ends ends = model.mesh_ends(i);
    const Real ratio = model.mesh[i].ratio, before = work.coupling_torque[model.first_mesh() + i];
    const Teeth& teeth = teeth_[i];
    const Real others = looseness[ends.from] * work.station_torque[ends.from] -
                        ratio * looseness[ends.to] * work.station_torque[ends.to] + teeth.looseness * before;
    const Real torque = limited(teeth.torque + teeth.per_others * others, teeth.least, teeth.greatest);
    apply_coupling(model.first_mesh() + i, ends, ratio, torque - before, work);
    work.coupling_torque[model.first_mesh() + i] = torque;
  }

  Teeth teeth_[most_couplings];
};

}  // namespace calmshaft
