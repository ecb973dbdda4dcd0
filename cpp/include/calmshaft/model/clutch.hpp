// A plate clutch in series with a gear pair: what its plates can hold limits the torque in the teeth, and the
// rest of the motion is slip. The gear between clutch and teeth has no inertia of its own here, so that an
// engaged clutch leaves exactly the line of a steady condition.
//   z = limited(z_n + twist - twist_n, +-reach)      reach = half backlash + capacity / tooth stiffness
//   T = limited(teeth(z), +-capacity)                slips where z stands at its limit
// The memory (z_n, twist_n) is frozen within a step and renewed after it, like that of dry friction.
#pragma once

#include "calmshaft/model/dynamics.hpp"

namespace calmshaft {

struct ClutchMemory {
  double tooth_twist = 0;  // [rad] of the teeth, from the middle of the backlash, at the last step's end
  double whole_twist = 0;  // [rad] of gear pair and clutch together then
};

struct ClutchTorque {
  double torque;       // [N m] at the gear pair's `from`
  double tooth_twist;  // [rad]
  double heat;         // [W] of slipping plates
};

// Twist that the teeth can have before the plates slip [rad].
inline double clutch_reach(const Model::Mesh& mesh, double capacity /* [N m] */) {
  return mesh.half_backlash + capacity / mesh.contact.stiffness;
}

// Twist that the teeth would have if the plates held since the last step [rad]; the brackets keep it exact there.
inline double held_twist(const ClutchMemory& memory, double whole_twist) {
  return memory.tooth_twist + (whole_twist - memory.whole_twist);
}

inline double tooth_twist(const ClutchMemory& memory, double reach, double whole_twist) {
  return limited(held_twist(memory, whole_twist), -reach, reach);
}

// `whole_twist` [rad] and `rate` [rad/s] across gear pair and clutch; `capacity` [N m] is the most they carry.
inline ClutchTorque clutch_torque(const Model::Mesh& mesh, const ClutchMemory& memory, double capacity,
                                  double whole_twist, double rate) {
  const double reach = clutch_reach(mesh, capacity);
  const double twist = tooth_twist(memory, reach, whole_twist);
  const double held = held_twist(memory, whole_twist);
  // The memory stands exactly at the limit where the last step ended slipping: there the rate decides.
  const bool slips = magnitude(held) > reach || (magnitude(held) == reach && held * rate > 0);
  const double teeth = gap_torque(mesh.contact, mesh.half_backlash, mesh.half_backlash, twist, slips ? 0.0 : rate);
  const double torque = limited(teeth, -capacity, capacity);
  return {torque, twist, slips ? torque * rate : 0.0};
}

}  // namespace calmshaft
