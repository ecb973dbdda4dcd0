#include "calmshaft/model/energy.hpp"

#include <algorithm>

namespace calmshaft {
namespace {

double half_square(double stiffness, double twist) { return 0.5 * stiffness * twist * twist; }

double contact_energy(double stiffness, double drive_gap, double coast_gap, double twist) {
  return half_square(stiffness, larger(twist - drive_gap, 0.0)) +
         half_square(stiffness, larger(-twist - coast_gap, 0.0));
}

double twist_of(Ends ends, double ratio, const double* state) {
  return angle_of(ends.from, state) - ratio * state[ends.to];
}

double damper_energy(const Model::Damper& damper, const FrictionMemory<double>& memory, double twist) {
  double energy = contact_energy(damper.stop.stiffness, damper.drive_stop, damper.coast_stop, twist);
  for (int i = 0; i < damper.ramps; ++i) {
    const auto& ramp = damper.ramp[i];
    energy += half_square(ramp.slope, larger(ramp.side * twist - ramp.corner, 0.0));
  }
  return energy + half_square(damper.slider_stiffness, slider_twist(damper.presliding_angle, memory, twist));
}

}  // namespace

double coupling_energy(const Model& model, int coupling, const double* state, const Workspace<double>& work) {
  if (coupling < model.first_damper()) {
    const auto& spring = model.spring[coupling];
    return half_square(spring.stiffness, twist_of(model.spring_ends(coupling), 1.0, state));
  }
  if (coupling < model.first_mesh()) {
    const int plate = coupling - model.first_damper();
    return damper_energy(model.damper[plate], work.friction[plate], twist_of(model.damper_ends(plate), 1.0, state));
  }
  const int number = coupling - model.first_mesh();
  const auto& mesh = model.mesh[number];
  return mesh_energy(mesh, twist_of(model.mesh_ends(number), mesh.ratio, state));
}

double mesh_energy(const Model::Mesh& mesh, double twist) {
  return contact_energy(mesh.contact.stiffness, mesh.half_backlash, mesh.half_backlash, twist);
}

double kinetic_energy(const Model& model, double crank_inertia, const double* state) {
  const double* speed = state + model.stations;
  double energy = half_square(crank_inertia + model.inertia[0], speed[0]);
  for (int i = 1; i < model.stations; ++i) energy += half_square(model.inertia[i], speed[i]);
  return energy;
}

double stored_energy(const Model& model, double crank_inertia, const double* state, const Workspace<double>& work) {
  double energy = kinetic_energy(model, crank_inertia, state);
  for (int i = 0; i < model.couplings(); ++i) energy += coupling_energy(model, i, state, work);
  return energy;
}

EnergyAudit audit_of(const Model& model, const double* state, double dissipated, double stored_change,
                     double starter_work) {
  EnergyAudit audit;
  audit.gas_work = state[model.gas_work_slot()] - starter_work;
  audit.starter_work = starter_work;
  audit.engine_friction = state[model.engine_friction_slot()];
  audit.couplings = dissipated;
  for (int i = 0; i < model.loads(); ++i) audit.loads += state[model.load_work_slot(i)];
  audit.stored_change = stored_change;
  const double taken = audit.engine_friction + audit.couplings + audit.loads;
  audit.throughput = std::max(audit.gas_work + audit.starter_work, taken);
  audit.defect = audit.gas_work + audit.starter_work - taken - audit.stored_change;
  return audit;
}

}  // namespace calmshaft
