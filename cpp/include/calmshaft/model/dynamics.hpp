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
  FrictionMemory<Real> friction[most_plates];
  Real mean_crank_speed{};               // [rad/s] where the propeller's extra damping is zero
  Real station_torque[most_stations];    // [N m]
  Real coupling_torque[most_couplings];  // [N m] at `from`
  Real coupling_twist[most_couplings];   // [rad]
  Real coupling_rate[most_couplings];    // [rad/s]
};

// z = limited(z_n + twist - twist_n, +-presliding): elastic to the presliding angle, sliding beyond.
template <class Real>
Real slider_twist(const StagedDamper& damper, const FrictionMemory<Real>& memory, Real twist) {
  return limited(memory.slider_twist + twist - memory.coupling_twist, -damper.presliding_angle,
                 damper.presliding_angle);
}

template <class Real>
Real contact_torque(const Contact& contact, Real penetration, Real approach_speed) {
  return contact.stiffness * larger(penetration, 0.0) * larger(1.0 + contact.damping_factor * approach_speed, 0.0);
}

// Two flanks with a gap between them.
template <class Real>
Real gap_torque(const Contact& contact, double drive_gap, double coast_gap, Real twist, Real rate) {
  return contact_torque(contact, twist - drive_gap, rate) - contact_torque(contact, -twist - coast_gap, -rate);
}

template <class Real>
Real elastic_torque(const StagedDamper& damper, Real twist) {
  Real torque = 0.0 * twist;
  for (const Ramp& ramp : damper.ramps)
    torque = torque + (ramp.side * ramp.slope) * larger(ramp.side * twist - ramp.corner, 0.0);
  return torque;
}

// +1 ahead, -1 back, a straight line between -1 and +1 rad/s so that a standing line has no jump.
template <class Real>
Real direction(Real speed) {
  return limited(speed, -1.0, 1.0);
}

template <class Real>
Real friction_torque(const FrictionTorque& friction, Real speed) {
  const Real size = magnitude(speed);
  return direction(speed) * (friction.constant + size * (friction.per_speed + size * friction.per_speed_squared));
}

template <class Real>
Real square_torque(const SquareLoad& load, Real speed, Real mean_speed) {
  return load.coefficient *
         (speed * magnitude(speed) + load.extra_damping * magnitude(mean_speed) * (speed - mean_speed));
}

// Torque of every coupling onto its two stations; writes twist, rate, torque and rate of work.
template <class Real>
void apply_coupling(int index, int from, int to, double ratio, Real torque, Workspace<Real>& work) {
  work.coupling_torque[index] = torque;
  work.station_torque[from] = work.station_torque[from] - torque;
  work.station_torque[to] = work.station_torque[to] + ratio * torque;
}

template <class Real>
void read_twist(int index, int from, int to, double ratio, const Real* angle, const Real* speed,
                Workspace<Real>& work) {
  const Real angle_from = from == 0 ? 0.0 * angle[0] : angle[from];
  work.coupling_twist[index] = angle_from - ratio * angle[to];
  work.coupling_rate[index] = speed[from] - ratio * speed[to];
}

template <class Real>
void apply_couplings(const Model& model, const Real* state, Workspace<Real>& work, Real* rate_of_work) {
  const Real* speed = state + model.stations;
  int index = 0;
  for (const LinearSpring& spring : model.springs) {
    read_twist(index, spring.from, spring.to, 1.0, state, speed, work);
    const Real torque = spring.stiffness * work.coupling_twist[index] + spring.damping * work.coupling_rate[index];
    apply_coupling(index++, spring.from, spring.to, 1.0, torque, work);
  }
  int plate = 0;
  for (const StagedDamper& damper : model.dampers) {
    read_twist(index, damper.from, damper.to, 1.0, state, speed, work);
    const Real twist = work.coupling_twist[index];
    const Real rate = work.coupling_rate[index];
    const Real friction = (damper.friction_torque / damper.presliding_angle) *
                          slider_twist(damper, work.friction[plate], twist);
    const Real torque = elastic_torque(damper, twist) + damper.damping * rate + friction +
                        gap_torque(damper.stop, damper.drive_stop, damper.coast_stop, twist, rate);
    rate_of_work[model.dry_friction_slot(plate++)] = friction * rate;
    apply_coupling(index++, damper.from, damper.to, 1.0, torque, work);
  }
  for (const GearMesh& mesh : model.meshes) {
    read_twist(index, mesh.from, mesh.to, mesh.ratio, state, speed, work);
    const Real torque = gap_torque(mesh.contact, mesh.half_backlash, mesh.half_backlash,
                                   work.coupling_twist[index], work.coupling_rate[index]);
    apply_coupling(index++, mesh.from, mesh.to, mesh.ratio, torque, work);
  }
  for (int i = 0; i < index; ++i)
    rate_of_work[model.coupling_work_slot(i)] = work.coupling_torque[i] * work.coupling_rate[i];
}

template <class Real>
void apply_loads(const Model& model, const Real* state, Workspace<Real>& work, Real* rate_of_work) {
  const Real* speed = state + model.stations;
  int index = 0;
  const auto apply = [&](int station, Real torque) {
    work.station_torque[station] = work.station_torque[station] - torque;
    rate_of_work[model.load_work_slot(index++)] = torque * speed[station];
  };
  for (const SquareLoad& load : model.square_loads) {
    const Real mean_speed = model.speed_ratio[static_cast<std::size_t>(load.station)] * work.mean_crank_speed;
    apply(load.station, square_torque(load, speed[load.station], mean_speed));
  }
  for (const Drag& drag : model.drags) apply(drag.station, drag.torque * direction(speed[drag.station]));
}

// d(state)/dt. Slot 0 of the state is the crank angle [rad].
//   J_i dw_i/dt = T_i        J(th) dw_0/dt = T_0 - 1/2 J'(th) w_0^2
template <class Real>
void derivative_in_time(const Model& model, const CrankDrive<Real>& drive, const Real* state, Workspace<Real>& work,
                        Real* rate) {
  const int n = model.stations;
  const Real* speed = state + n;
  const Real crank_speed = speed[0];
  for (int i = 0; i < n; ++i) work.station_torque[i] = 0.0 * crank_speed;
  const Real friction = friction_torque(model.engine_friction, crank_speed);
  work.station_torque[0] = drive.gas_torque - friction;
  rate[model.gas_work_slot()] = drive.gas_torque * crank_speed;
  rate[model.engine_friction_slot()] = friction * crank_speed;
  apply_couplings(model, state, work, rate);
  apply_loads(model, state, work, rate);
  rate[0] = crank_speed;
  rate[n] = (work.station_torque[0] - 0.5 * drive.inertia_slope * crank_speed * crank_speed) /
            (drive.inertia + model.inertia[0]);
  for (int i = 1; i < n; ++i) {
    const auto station = static_cast<std::size_t>(i);
    rate[i] = speed[i] - model.speed_ratio[station] * crank_speed;
    rate[n + i] = work.station_torque[i] / model.inertia[station];
  }
}

// d(state)/d(crank angle): the time form over the crank's speed. Slot 0 of the state is the clock [s].
template <class Real>
void derivative_in_crank_angle(const Model& model, const CrankDrive<Real>& drive, const Real* state,
                               Workspace<Real>& work, Real* rate) {
  derivative_in_time(model, drive, state, work, rate);
  const Real slowness = 1.0 / state[model.stations];
  rate[0] = slowness;
  for (int i = 1; i < model.state_size(); ++i) rate[i] = rate[i] * slowness;
}

// After a step: the slider keeps its clamped twist, the damper's twist is remembered.
template <class Real>
void remember_friction(const Model& model, const Real* state, Workspace<Real>& work) {
  int plate = 0;
  for (const StagedDamper& damper : model.dampers) {
    const Real angle_from = damper.from == 0 ? 0.0 * state[0] : state[damper.from];
    const Real twist = angle_from - state[damper.to];
    work.friction[plate].slider_twist = slider_twist(damper, work.friction[plate], twist);
    work.friction[plate++].coupling_twist = twist;
  }
}

}  // namespace calmshaft
