// The mass-elastic system: stations with inertia, joined by couplings, slowed by loads.
// Station 0 is the crank with its flywheel. Every value is in its own shaft's frame; a coupling's
// twist is angle(from) - ratio * angle(to), and its torque is positive when the engine drives.
#pragma once

#include <string>
#include <variant>
#include <vector>

namespace calmshaft {

struct Station {
  std::string name;
  double inertia;      // [kg m^2]; station 0: flywheel and what is fixed to it, the crank's table comes on top
  double speed_ratio;  // [-] own speed over the crank's, negative when it turns backwards
};

// Hunt-Crossley contact: torque = stiffness * g * max(0, 1 + damping_factor * dg/dt), g = penetration.
struct Contact {
  double stiffness;       // [N m/rad]
  double damping_factor;  // [s/rad]
};

struct LinearSpring {
  std::string name;
  int from;
  int to;
  double stiffness;  // [N m/rad]
  double damping;    // [N m s/rad]
};

// One corner of a piecewise linear torque: slope * max(0, side * twist - corner), with the sign of side.
struct Ramp {
  double side;    // [-] +1 drive, -1 coast
  double corner;  // [rad] twist from the middle where it begins
  double slope;   // [N m/rad] change of stiffness there
};

struct StagedDamper {
  std::string name;
  int from;
  int to;
  std::vector<Ramp> ramps;
  double damping;           // [N m s/rad]
  double friction_torque;   // [N m] half of the hysteresis width
  double presliding_angle;  // [rad] twist from rest to sliding
  double drive_stop;        // [rad] twist
  double coast_stop;        // [rad] twist, positive
  Contact stop;
};

struct GearMesh {
  std::string name;
  int from;
  int to;
  double ratio;          // [-] turns of `from` per turn of `to`, negative astern
  double half_backlash;  // [rad] at `from`
  Contact contact;
  bool loaded;  // false: turns along, its teeth may rattle
};

using Coupling = std::variant<LinearSpring, StagedDamper, GearMesh>;

// Propeller torque: coefficient * (w |w| + extra_damping * |mean w| * (w - mean w)), w the station's speed.
struct SquareLoad {
  std::string name;
  int station;
  double coefficient;    // [N m s^2/rad^2]
  double extra_damping;  // [-]
};

// Constant torque against the motion (pump, seals, oil drag).
struct Drag {
  std::string name;
  int station;
  double torque;  // [N m]
};

using Load = std::variant<SquareLoad, Drag>;

// Every station but the crank is the `to` of exactly one coupling, whose `from` comes before it.
struct MassElastic {
  std::vector<Station> stations;
  std::vector<Coupling> couplings;
  std::vector<Load> loads;
};

// Damping factor from a restitution e at approach speed v0: 3 (1 - e) / (2 v0).
constexpr double damping_factor(double restitution, double speed) { return 1.5 * (1.0 - restitution) / speed; }

}  // namespace calmshaft
