// The equations of motion, written once for any number type: a double, or a pack of sweep points.
// Nothing here allocates. Time form and crank-angle form share the same torques.
#pragma once

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
  Real mean_crank_speed{};               // [rad/s] where the propeller's extra damping is zero
  Real station_torque[most_stations];    // [N m]
  Real coupling_torque[most_couplings];  // [N m] at `from`
  Real coupling_twist[most_couplings];   // [rad]
  Real coupling_rate[most_couplings];    // [rad/s]
};

// z = limited(z_n + twist - twist_n, +-presliding): elastic to the presliding angle, sliding beyond.
template <class Real>
Real slider_twist(Real presliding_angle, const FrictionMemory<Real>& memory, Real twist) {
  return limited(memory.slider_twist + twist - memory.coupling_twist, -presliding_angle, presliding_angle);
}

// Hunt-Crossley: k g max(0, 1 + chi dg/dt), g = penetration.
template <class Real, class Contact>
Real contact_torque(const Contact& contact, Real penetration, Real approach_speed) {
  return contact.stiffness * larger(penetration, Real{}) *
         larger(1.0 + contact.damping_factor * approach_speed, Real{});
}

// Two flanks with a gap between them.
template <class Real, class Contact>
Real gap_torque(const Contact& contact, Real drive_gap, Real coast_gap, Real twist, Real rate) {
  return contact_torque(contact, twist - drive_gap, rate) - contact_torque(contact, -twist - coast_gap, -rate);
}

// Sum of slope * max(0, side * twist - corner), with the sign of the side.
template <class Real, class Damper>
Real elastic_torque(const Damper& damper, Real twist) {
  Real torque{};
  for (int i = 0; i < damper.ramps; ++i) {
    const auto& ramp = damper.ramp[i];
    torque = torque + ramp.side * (ramp.slope * larger(ramp.side * twist - ramp.corner, Real{}));
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

// Slot 0 of the state holds the clock, so the crank's own angle is written as zero.
template <class Real>
Real angle_of(int station, const Real* state) {
  return station == 0 ? Real{} : state[station];
}

template <class Real>
void read_twist(int index, int from, int to, Real ratio, const Real* state, const Real* speed, Workspace<Real>& work) {
  work.coupling_twist[index] = angle_of(from, state) - ratio * state[to];
  work.coupling_rate[index] = speed[from] - ratio * speed[to];
}

// A coupling's torque onto its two stations, and the rate of work on it.
template <class Real>
void apply_coupling(int index, int from, int to, Real ratio, Real torque, Workspace<Real>& work, Real* power) {
  work.coupling_torque[index] = torque;
  work.station_torque[from] = work.station_torque[from] - torque;
  work.station_torque[to] = work.station_torque[to] + ratio * torque;
  power[index] = torque * work.coupling_rate[index];
}

// The torque of a mesh whose twist and rate stand in the workspace. A manoeuvre puts a clutch in its place.
struct GearedMesh {
  template <class Real>
  Real operator()(const ModelOf<Real>& model, int mesh_number, const Real*, Workspace<Real>& work) const {
    const auto& mesh = model.mesh[mesh_number];
    const int index = model.first_mesh() + mesh_number;
    return gap_torque(mesh.contact, mesh.half_backlash, mesh.half_backlash, work.coupling_twist[index],
                      work.coupling_rate[index]);
  }
};

template <class Real, class MeshLaw>
void apply_couplings(const ModelOf<Real>& model, const Real* state, Workspace<Real>& work, Real* rate,
                     const MeshLaw& mesh_law) {
  const Real* speed = state + model.stations;
  Real* power = rate + model.coupling_work_slot(0);
  const Real one = Real{} + 1.0;
  int index = 0;
  for (int i = 0; i < model.springs; ++i, ++index) {
    const auto& spring = model.spring[i];
    read_twist(index, spring.from, spring.to, one, state, speed, work);
    const Real torque = spring.stiffness * work.coupling_twist[index] + spring.damping * work.coupling_rate[index];
    apply_coupling(index, spring.from, spring.to, one, torque, work, power);
  }
  for (int i = 0; i < model.dampers; ++i, ++index) {
    const auto& damper = model.damper[i];
    read_twist(index, damper.from, damper.to, one, state, speed, work);
    const Real twist = work.coupling_twist[index], turning = work.coupling_rate[index];
    const Real friction = damper.slider_stiffness * slider_twist(damper.presliding_angle, work.friction[i], twist);
    const Real torque = elastic_torque(damper, twist) + damper.damping * turning + friction +
                        gap_torque(damper.stop, damper.drive_stop, damper.coast_stop, twist, turning);
    rate[model.dry_friction_slot(i)] = friction * turning;
    apply_coupling(index, damper.from, damper.to, one, torque, work, power);
  }
  for (int i = 0; i < model.meshes; ++i, ++index) {
    const auto& mesh = model.mesh[i];
    read_twist(index, mesh.from, mesh.to, mesh.ratio, state, speed, work);
    const Real torque = mesh_law(model, i, state, work);
    apply_coupling(index, mesh.from, mesh.to, mesh.ratio, torque, work, power);
    rate[model.turning_slot(i)] = torque * speed[0];
  }
}

template <class Real>
void apply_loads(const ModelOf<Real>& model, const Real* state, Workspace<Real>& work, Real* rate) {
  const Real* speed = state + model.stations;
  Real* power = rate + model.load_work_slot(0);
  const auto apply = [&](int station, Real torque) {
    work.station_torque[station] = work.station_torque[station] - torque;
    *power++ = torque * speed[station];
  };
  for (int i = 0; i < model.square_loads; ++i) {
    const auto& load = model.square_load[i];
    apply(load.station, square_torque(load, speed[load.station], model.speed_ratio[load.station] * work.mean_crank_speed));
  }
  for (int i = 0; i < model.drags; ++i)
    apply(model.drag[i].station, model.drag[i].torque * direction(speed[model.drag[i].station]));
}

// Torque on every station, and the rates of work [W].
template <class Real, class MeshLaw>
void apply_torques(const ModelOf<Real>& model, const CrankDrive<Real>& drive, const Real* state, Workspace<Real>& work,
                   Real* rate, const MeshLaw& mesh_law) {
  const Real crank_speed = state[model.stations];
  for (int i = 1; i < model.stations; ++i) work.station_torque[i] = Real{};
  const Real friction = engine_friction(model, crank_speed);
  work.station_torque[0] = drive.gas_torque - friction;
  rate[model.gas_work_slot()] = drive.gas_torque * crank_speed;
  rate[model.engine_friction_slot()] = friction * crank_speed;
  apply_couplings(model, state, work, rate, mesh_law);
  apply_loads(model, state, work, rate);
}

// d(state)/dt. Slot 0 of the state is the crank angle [rad].
//   J_i dw_i/dt = T_i        J(th) dw_0/dt = T_0 - 1/2 J'(th) w_0^2
template <class Real, class MeshLaw = GearedMesh>
void derivative_in_time(const ModelOf<Real>& model, const CrankDrive<Real>& drive, const Real* state,
                        Workspace<Real>& work, Real* rate, const MeshLaw& mesh_law = {}) {
  const int n = model.stations;
  const Real* speed = state + n;
  const Real crank_speed = speed[0];
  apply_torques(model, drive, state, work, rate, mesh_law);
  rate[0] = crank_speed;
  rate[n] = (work.station_torque[0] - 0.5 * drive.inertia_slope * crank_speed * crank_speed) /
            (drive.inertia + model.inertia[0]);
  for (int i = 1; i < n; ++i) {
    rate[i] = speed[i] - model.speed_ratio[i] * crank_speed;
    rate[n + i] = work.station_torque[i] * model.inverse_inertia[i];
  }
}

// d(state)/d(crank angle): the time form over the crank's speed. Slot 0 of the state is the clock [s].
template <class Real>
void derivative_in_crank_angle(const ModelOf<Real>& model, const CrankDrive<Real>& drive, const Real* state,
                               Workspace<Real>& work, Real* rate) {
  const Real slowness = 1.0 / state[model.stations];  // first: the division runs while the torques are summed
  derivative_in_time(model, drive, state, work, rate);
  rate[0] = slowness;
  const int size = model.state_size();
  for (int i = 1; i < size; ++i) rate[i] = rate[i] * slowness;
}

// After a step: the slider keeps its clamped twist, the damper's twist is remembered.
template <class Real>
void remember_friction(const ModelOf<Real>& model, const Real* state, Workspace<Real>& work) {
  for (int i = 0; i < model.dampers; ++i) {
    const auto& damper = model.damper[i];
    const Real twist = angle_of(damper.from, state) - state[damper.to];
    work.friction[i].slider_twist = slider_twist(damper.presliding_angle, work.friction[i], twist);
    work.friction[i].coupling_twist = twist;
  }
}

}  // namespace calmshaft
