// The mass-elastic system compiled for the equations: plain arrays by kind, with fixed limits, and the
// layout of the state vector. The values are doubles, or packs that hold one double for each sweep point.
#pragma once

#include "calmshaft/engine/friction.hpp"
#include "calmshaft/model/mass_elastic.hpp"

namespace calmshaft {

inline constexpr int most_stations = 12;
inline constexpr int most_couplings = most_stations - 1;
inline constexpr int most_dampers = 1;
inline constexpr int most_ramps = 24;
inline constexpr int most_square_loads = 2;
inline constexpr int most_drags = most_stations;

// State: [clock or crank angle | q_1..q_n-1 | w_0..w_n-1 | work done so far].
// q_i = angle_i - speed_ratio_i * crank angle [rad], w_i own speed [rad/s], work [J] in the order
// gas, engine friction, couplings (springs, dampers, meshes), dry friction of each damper, loads (square, drags);
// last the torque of each mesh over crank angle, torque x turn [N m rad], from which its mean comes.
// Fields as in mass_elastic.hpp.

// Stations that a coupling joins.
struct Ends {
  int from, to;
};

// How many of each part there are and where they sit, known when the program runs. A kernel for one kind of line
// takes another shape in its place that knows all this when it is compiled.
struct AnyShape {
  int stations = 0, springs = 0, dampers = 0, meshes = 0, square_loads = 0, drags = 0;
  Ends spring_joint[most_couplings], damper_joint[most_dampers], mesh_joint[most_couplings];
  int square_load_at[most_square_loads], drag_at[most_drags];

  Ends spring_ends(int i) const { return spring_joint[i]; }
  Ends damper_ends(int i) const { return damper_joint[i]; }
  Ends mesh_ends(int i) const { return mesh_joint[i]; }
  int square_load_station(int i) const { return square_load_at[i]; }
  int drag_station(int i) const { return drag_at[i]; }
};

template <class Value, class Shape = AnyShape>
struct ModelOf : Shape {
  struct Spring {
    Value stiffness, damping;  // [N m/rad], [N m s/rad]
  };
  struct RampValues {
    double side;          // [-]
    Value corner, slope;  // [rad], [N m/rad]
  };
  struct ContactValues {
    Value stiffness, damping_factor;  // [N m/rad], [s/rad]
  };
  struct Damper {
    int ramps;
    RampValues ramp[most_ramps];
    Value damping, slider_stiffness, presliding_angle;  // [N m s/rad], [N m/rad], [rad]
    Value drive_stop, coast_stop;                       // [rad]
    ContactValues stop;
  };
  struct Mesh {
    bool loaded;
    Value ratio, half_backlash;  // [-], [rad]
    ContactValues contact;
  };
  struct Square {
    Value coefficient, extra_damping;  // [N m s^2/rad^2], [-]
  };
  struct ConstantDrag {
    Value torque;  // [N m]
  };

  Value inertia[most_stations];          // [kg m^2]
  Value inverse_inertia[most_stations];  // [1/(kg m^2)]
  Value speed_ratio[most_stations];      // [-]
  Spring spring[most_couplings];
  Damper damper[most_dampers];
  Mesh mesh[most_couplings];
  Square square_load[most_square_loads];
  ConstantDrag drag[most_drags];
  Value friction_constant, friction_per_speed, friction_per_speed_squared;  // [N m], [N m s/rad], [N m s^2/rad^2]

  int couplings() const { return this->springs + this->dampers + this->meshes; }
  int loads() const { return this->square_loads + this->drags; }
  int first_damper() const { return this->springs; }
  int first_mesh() const { return this->springs + this->dampers; }
  int gas_work_slot() const { return 2 * this->stations; }
  int engine_friction_slot() const { return gas_work_slot() + 1; }
  int coupling_work_slot(int coupling) const { return gas_work_slot() + 2 + coupling; }
  int dry_friction_slot(int plate) const { return coupling_work_slot(couplings()) + plate; }
  int load_work_slot(int load) const { return dry_friction_slot(this->dampers) + load; }
  int turning_slot(int mesh_number) const { return load_work_slot(loads()) + mesh_number; }
  int state_size() const { return turning_slot(this->meshes); }
};

using Model = ModelOf<double>;

inline constexpr int most_work_slots =
    2 + 2 * most_couplings + most_dampers + most_square_loads + most_drags;
inline constexpr int most_state = 2 * most_stations + most_work_slots;

// Calls visit(a.x, b.x) for every value of two models of one shape: how packs are filled.
template <class A, class B, class Visit>
void for_each_value(const A& a, B& b, const Visit& visit);

// Counts, stations and sides: all but the values.
template <class A, class B>
void copy_shape(const A& a, B& b);

// Sides of stages and which teeth carry load: what shape and values leave over.
template <class A, class B>
void copy_sides(const A& a, B& b) {
  for (int i = 0; i < a.dampers; ++i) {
    b.damper[i].ramps = a.damper[i].ramps;
    for (int j = 0; j < a.damper[i].ramps; ++j) b.damper[i].ramp[j].side = a.damper[i].ramp[j].side;
  }
  for (int i = 0; i < a.meshes; ++i) b.mesh[i].loaded = a.mesh[i].loaded;
}

// True where two models differ in values only, so that they can share a pack.
bool same_shape(const Model& a, const Model& b);

// True where parts of the same number join the same stations.
template <class A, class B>
bool have_same_joints(const A& a, const B& b) {
  if (a.stations != b.stations || a.springs != b.springs || a.dampers != b.dampers || a.meshes != b.meshes ||
      a.square_loads != b.square_loads || a.drags != b.drags)
    return false;
  const auto same = [](Ends p, Ends q) { return p.from == q.from && p.to == q.to; };
  bool all = true;
  for (int i = 0; i < a.springs; ++i) all = all && same(a.spring_ends(i), b.spring_ends(i));
  for (int i = 0; i < a.dampers; ++i) all = all && same(a.damper_ends(i), b.damper_ends(i));
  for (int i = 0; i < a.meshes; ++i) all = all && same(a.mesh_ends(i), b.mesh_ends(i));
  for (int i = 0; i < a.square_loads; ++i) all = all && a.square_load_station(i) == b.square_load_station(i);
  for (int i = 0; i < a.drags; ++i) all = all && a.drag_station(i) == b.drag_station(i);
  return all;
}

// Throws SolveError when the system is larger than the limits above.
Model compile(const MassElastic& system, const FrictionTorque& engine_friction);

template <class A, class B>
void copy_shape(const A& a, B& b) {
  static_cast<AnyShape&>(b) = a;
  copy_sides(a, b);
}

template <class A, class B, class Visit>
void for_each_value(const A& a, B& b, const Visit& visit) {
  for (int i = 0; i < a.stations; ++i) {
    visit(a.inertia[i], b.inertia[i]);
    visit(a.inverse_inertia[i], b.inverse_inertia[i]);
    visit(a.speed_ratio[i], b.speed_ratio[i]);
  }
  for (int i = 0; i < a.springs; ++i) {
    visit(a.spring[i].stiffness, b.spring[i].stiffness);
    visit(a.spring[i].damping, b.spring[i].damping);
  }
  const auto visit_contact = [&](const auto& from, auto& to) {
    visit(from.stiffness, to.stiffness);
    visit(from.damping_factor, to.damping_factor);
  };
  for (int i = 0; i < a.dampers; ++i) {
    const auto& from = a.damper[i];
    auto& to = b.damper[i];
    for (int j = 0; j < from.ramps; ++j) {
      visit(from.ramp[j].corner, to.ramp[j].corner);
      visit(from.ramp[j].slope, to.ramp[j].slope);
    }
    visit(from.damping, to.damping);
    visit(from.slider_stiffness, to.slider_stiffness);
    visit(from.presliding_angle, to.presliding_angle);
    visit(from.drive_stop, to.drive_stop);
    visit(from.coast_stop, to.coast_stop);
    visit_contact(from.stop, to.stop);
  }
  for (int i = 0; i < a.meshes; ++i) {
    visit(a.mesh[i].ratio, b.mesh[i].ratio);
    visit(a.mesh[i].half_backlash, b.mesh[i].half_backlash);
    visit_contact(a.mesh[i].contact, b.mesh[i].contact);
  }
  for (int i = 0; i < a.square_loads; ++i) {
    visit(a.square_load[i].coefficient, b.square_load[i].coefficient);
    visit(a.square_load[i].extra_damping, b.square_load[i].extra_damping);
  }
  for (int i = 0; i < a.drags; ++i) visit(a.drag[i].torque, b.drag[i].torque);
  visit(a.friction_constant, b.friction_constant);
  visit(a.friction_per_speed, b.friction_per_speed);
  visit(a.friction_per_speed_squared, b.friction_per_speed_squared);
}

}  // namespace calmshaft
