// The equations of motion, written once for any number type: a double, or a pack of sweep points.
// Nothing here allocates. Time form and crank-angle form share the same torques.
#pragma once

#include <type_traits>
#include <utility>

#include "calmshaft/core/number.hpp"
#include "calmshaft/model/model.hpp"

namespace calmshaft {

// What the crank's tables say at the present crank angle.
template <class Real>
struct CrankDrive {
  Real gas_torque;     // [N m]
  Real inertia;        // [kg m^2] crank, rods, pistons
  Real inertia_slope;  // [kg m^2/rad]
};

// Dry friction as memory: frozen within a step, renewed after it. See slider_twist().
template <class Real>
struct FrictionMemory {
  Real slider_twist{};    // [rad] elastic part z at the last step's end
  Real coupling_twist{};  // [rad] twist of the damper then
};

template <class Real>
struct Workspace {
  FrictionMemory<Real> friction[most_dampers];
  Real mean_crank_speed{};                           // [rad/s] where the propeller's extra damping is zero
  Real engine_friction{};                            // [N m]
  Real dry_friction[most_dampers];                   // [N m] part of the coupling's torque
  Real load_torque[most_square_loads + most_drags];  // [N m]
  Real station_torque[most_stations];                // [N m]
  Real coupling_torque[most_couplings];              // [N m] at `from`
  Real coupling_twist[most_couplings];               // [rad]
  Real coupling_rate[most_couplings];                // [rad/s]
  Real coupling_depth[most_couplings];  // [rad] beyond the flank or stop that is touched, below zero beyond the coast
                                        // one
};

// z = limited(z_n + twist - twist_n, +-presliding): elastic to the presliding angle, sliding beyond.
template <class Real>
Real slider_twist(Real presliding_angle, const FrictionMemory<Real>& memory, Real twist) {
  return limited(memory.slider_twist + twist - memory.coupling_twist, -presliding_angle, presliding_angle);
}

// How far a twist lies beyond the gap between two flanks: above zero on the drive side, below on the coast side.
template <class Real>
Real depth_beyond(Real drive_gap, Real coast_gap, Real twist) {
  return larger(twist - drive_gap, Real{}) + smaller(twist + coast_gap, Real{});
}

// Hunt-Crossley: k g max(0, 1 + chi dg/dt) on either flank, g = size of the depth.
template <class Real, class Contact>
Real contact_torque(const Contact& contact, Real depth, Real rate) {
  const Real deepening = where_positive(depth, rate, -rate);
  return contact.stiffness * depth * larger(1.0 + contact.damping_factor * deepening, Real{});
}

// Two flanks with a gap between them.
template <class Real, class Contact>
Real gap_torque(const Contact& contact, Real drive_gap, Real coast_gap, Real twist, Real rate) {
  return contact_torque(contact, depth_beyond(drive_gap, coast_gap, twist), rate);
}

// Sum of slope * max(0, side * twist - corner), with the sign of the side.
template <class Real, class Damper>
Real elastic_torque(const Damper& damper, Real twist) {
  Real torque{};
  for (int i = 0; i < damper.ramps; ++i) {
    const auto& ramp = damper.ramp[i];
    torque = torque +
             ramp.slope * (ramp.side > 0 ? larger(twist - ramp.corner, Real{}) : smaller(twist + ramp.corner, Real{}));
  }
  return torque;
}

// +1 ahead, -1 back, a straight line between -1 and +1 rad/s so that a standing line has no jump.
template <class Real>
Real direction(Real speed) {
  return limited(speed, Real{} - 1.0, Real{} + 1.0);
}

template <class Model, class Real>
Real engine_friction(const Model& model, Real speed) {
  const Real size = magnitude(speed);
  return direction(speed) *
         (model.friction_constant + size * (model.friction_per_speed + size * model.friction_per_speed_squared));
}

// k (w |w| + e |mean w| (w - mean w)): the square law damps by 2 k |w| of itself, e k |w| comes on top.
template <class Load, class Real>
Real square_torque(const Load& load, Real speed, Real mean_speed) {
  return load.coefficient *
         (speed * magnitude(speed) + load.extra_damping * magnitude(mean_speed) * (speed - mean_speed));
}

// Calls visit(0) to visit(count - 1), one after the other where the count is known when compiling.
template <class Visit>
void repeat(int count, const Visit& visit) {
  for (int i = 0; i < count; ++i) visit(i);
}
template <int count, class Visit>
void repeat(std::integral_constant<int, count>, const Visit& visit) {
  [&]<int... i>(std::integer_sequence<int, i...>) { (visit(i), ...); }
  (std::make_integer_sequence<int, count>{});
}

// Calls visit(station) for all stations but the crank.
template <class Model, class Visit>
void each_driven_station(const Model& model, const Visit& visit) {
  repeat(model.stations, [&](int i) {
    if (i > 0) visit(i);
  });
}

// Calls visit(coupling) for springs, dampers and meshes.
template <class Model, class Visit>
void each_coupling(const Model& model, const Visit& visit) {
  repeat(model.springs, [&](int i) { visit(i); });
  repeat(model.dampers, [&](int i) { visit(model.first_damper() + i); });
  repeat(model.meshes, [&](int i) { visit(model.first_mesh() + i); });
}

// Slot 0 of the angles holds the clock or the crank's own angle, so the crank's is written as zero.
template <class Real>
Real angle_of(int station, const Real* angle) {
  return station == 0 ? Real{} : angle[station];
}

template <class Real>
void read_twist(int index, Ends ends, Real ratio, const Real* angle, const Real* speed, Workspace<Real>& work) {
  work.coupling_twist[index] = angle_of(ends.from, angle) - ratio * angle[ends.to];
  work.coupling_rate[index] = speed[ends.from] - ratio * speed[ends.to];
}

// A coupling's torque onto its two stations.
template <class Real>
void apply_coupling(int index, Ends ends, Real ratio, Real torque, Workspace<Real>& work) {
  work.coupling_torque[index] = torque;
  work.station_torque[ends.from] = work.station_torque[ends.from] - torque;
  work.station_torque[ends.to] = work.station_torque[ends.to] + ratio * torque;
}

// The torque of a mesh whose twist and rate stand in the workspace. A manoeuvre puts a clutch in its place.
struct GearedMesh {
  template <class Model, class Real>
  Real operator()(const Model& model, int mesh_number, Workspace<Real>& work) const {
    const auto& mesh = model.mesh[mesh_number];
    const int index = model.first_mesh() + mesh_number;
    work.coupling_depth[index] = depth_beyond(mesh.half_backlash, mesh.half_backlash, work.coupling_twist[index]);
    return contact_torque(mesh.contact, work.coupling_depth[index], work.coupling_rate[index]);
  }
};

template <class Model, class Real>
Real damper_torque(const Model& model, int plate, Workspace<Real>& work) {
  const auto& damper = model.damper[plate];
  const int index = model.first_damper() + plate;
  const Real twist = work.coupling_twist[index], rate = work.coupling_rate[index];
  work.dry_friction[plate] =
      damper.slider_stiffness * slider_twist(damper.presliding_angle, work.friction[plate], twist);
  const Real depth = work.coupling_depth[index] = depth_beyond(damper.drive_stop, damper.coast_stop, twist);
  const Real torque = elastic_torque(damper, twist) + damper.damping * rate + work.dry_friction[plate];
  return any_positive(magnitude(depth)) ? torque + contact_torque(damper.stop, depth, rate) : torque;
}

template <class Model, class Real>
void apply_springs_and_dampers(const Model& model, const Real* angle, const Real* speed, Workspace<Real>& work) {
  const Real one = Real{} + 1.0;
  repeat(model.springs, [&](int i) {
    read_twist(i, model.spring_ends(i), one, angle, speed, work);
    const Real torque =
        model.spring[i].stiffness * work.coupling_twist[i] + model.spring[i].damping * work.coupling_rate[i];
    apply_coupling(i, model.spring_ends(i), one, torque, work);
  });
  repeat(model.dampers, [&](int i) {
    const int index = model.first_damper() + i;
    read_twist(index, model.damper_ends(i), one, angle, speed, work);
    apply_coupling(index, model.damper_ends(i), one, damper_torque(model, i, work), work);
  });
}

template <class Model, class Real, class MeshLaw>
void apply_meshes(const Model& model, const Real* angle, const Real* speed, Workspace<Real>& work,
                  const MeshLaw& mesh_law) {
  repeat(model.meshes, [&](int i) {
    const int index = model.first_mesh() + i;
    const Real ratio = model.mesh[i].ratio;
    read_twist(index, model.mesh_ends(i), ratio, angle, speed, work);
    apply_coupling(index, model.mesh_ends(i), ratio, mesh_law(model, i, work), work);
  });
}

template <class Model, class Real>
void apply_loads(const Model& model, const Real* speed, Workspace<Real>& work) {
  const auto apply = [&](int load, int station, Real torque) {
    work.load_torque[load] = torque;
    work.station_torque[station] = work.station_torque[station] - torque;
  };
  repeat(model.square_loads, [&](int i) {
    const int station = model.square_load_station(i);
    const Real mean_speed = model.speed_ratio[station] * work.mean_crank_speed;
    apply(i, station, square_torque(model.square_load[i], speed[station], mean_speed));
  });
  repeat(model.drags, [&](int i) {
    const int station = model.drag_station(i);
    apply(model.square_loads + i, station, model.drag[i].torque * direction(speed[station]));
  });
}

// Torque on every station but for that of the meshes; on the crank less what its changing inertia takes, so that all
// that couples to it sees its true acceleration: J(th) dw/dt = T - 1/2 J'(th) w^2.
template <class Model, class Real>
void apply_all_but_meshes(const Model& model, const CrankDrive<Real>& drive, const Real* angle, const Real* speed,
                          Workspace<Real>& work) {
  each_driven_station(model, [&](int i) { work.station_torque[i] = Real{}; });
  work.engine_friction = engine_friction(model, speed[0]);
  work.station_torque[0] = drive.gas_torque - work.engine_friction - 0.5 * drive.inertia_slope * speed[0] * speed[0];
  apply_springs_and_dampers(model, angle, speed, work);
  apply_loads(model, speed, work);
}

// Torque on every station, and in every part.
template <class Model, class Real, class MeshLaw = GearedMesh>
void apply_torques(const Model& model, const CrankDrive<Real>& drive, const Real* angle, const Real* speed,
                   Workspace<Real>& work, const MeshLaw& mesh_law = {}) {
  apply_all_but_meshes(model, drive, angle, speed, work);
  apply_meshes(model, angle, speed, work, mesh_law);
}

// Acceleration [rad/s^2] of every station under those torques, `crank_looseness` [1/(kg m^2)] over all inertia at the
// crank.
template <class Model, class Real>
void accelerate(const Model& model, Real crank_looseness, const Workspace<Real>& work, Real* acceleration) {
  acceleration[0] = work.station_torque[0] * crank_looseness;
  each_driven_station(model, [&](int i) { acceleration[i] = work.station_torque[i] * model.inverse_inertia[i]; });
}

// Calls visit(slot of the state, power [W]) for the work of every part at these speeds. With turns [rad] in their place
// it is the work [J].
template <class Model, class Real, class Visit>
void visit_powers(const Model& model, const CrankDrive<Real>& drive, const Real* speed, const Workspace<Real>& work,
                  const Visit& visit) {
  const Real one = Real{} + 1.0;
  const auto rate = [&](Ends ends, Real ratio) { return speed[ends.from] - ratio * speed[ends.to]; };
  const auto of_coupling = [&](int index, Real twisting) {
    visit(model.coupling_work_slot(index), work.coupling_torque[index] * twisting);
  };
  visit(model.gas_work_slot(), drive.gas_torque * speed[0]);
  visit(model.engine_friction_slot(), work.engine_friction * speed[0]);
  repeat(model.springs, [&](int i) { of_coupling(i, rate(model.spring_ends(i), one)); });
  repeat(model.dampers, [&](int i) {
    const Real twisting = rate(model.damper_ends(i), one);
    of_coupling(model.first_damper() + i, twisting);
    visit(model.dry_friction_slot(i), work.dry_friction[i] * twisting);
  });
  repeat(model.meshes,
         [&](int i) { of_coupling(model.first_mesh() + i, rate(model.mesh_ends(i), model.mesh[i].ratio)); });
  const auto of_load = [&](int load, int station) {
    visit(model.load_work_slot(load), work.load_torque[load] * speed[station]);
  };
  repeat(model.square_loads, [&](int i) { of_load(i, model.square_load_station(i)); });
  repeat(model.drags, [&](int i) { of_load(model.square_loads + i, model.drag_station(i)); });
}

// d(state)/dt. Slot 0 of the state is the crank angle [rad].
template <class Model, class Real, class MeshLaw = GearedMesh>
void derivative_in_time(const Model& model, const CrankDrive<Real>& drive, const Real* state, Workspace<Real>& work,
                        Real* rate, const MeshLaw& mesh_law = {}) {
  const int n = model.stations;
  const Real* speed = state + n;
  apply_torques(model, drive, state, speed, work, mesh_law);
  rate[0] = speed[0];
  each_driven_station(model, [&](int i) { rate[i] = speed[i] - model.speed_ratio[i] * speed[0]; });
  accelerate(model, 1.0 / (drive.inertia + model.inertia[0]), work, rate + n);
  visit_powers(model, drive, speed, work, [&](int slot, Real power) { rate[slot] = power; });
  repeat(model.meshes,
         [&](int i) { rate[model.turning_slot(i)] = work.coupling_torque[model.first_mesh() + i] * speed[0]; });
}

// d(state)/d(crank angle): the time form over the crank's speed. Slot 0 of the state is the clock [s].
template <class Model, class Real>
void derivative_in_crank_angle(const Model& model, const CrankDrive<Real>& drive, const Real* state,
                               Workspace<Real>& work, Real* rate) {
  const Real slowness = 1.0 / state[model.stations];  // first: the division runs while the torques are summed
  derivative_in_time(model, drive, state, work, rate);
  rate[0] = slowness;
  const int size = model.state_size();
  for (int i = 1; i < size; ++i) rate[i] = rate[i] * slowness;
}

// After a step: the slider keeps its clamped twist, the damper's twist is remembered.
template <class Model, class Real>
void remember_friction(const Model& model, const Real* angle, Workspace<Real>& work) {
  repeat(model.dampers, [&](int i) {
    const Ends ends = model.damper_ends(i);
    const Real twist = angle_of(ends.from, angle) - angle[ends.to];
    work.friction[i].slider_twist = slider_twist(model.damper[i].presliding_angle, work.friction[i], twist);
    work.friction[i].coupling_twist = twist;
  });
}

}  // namespace calmshaft
