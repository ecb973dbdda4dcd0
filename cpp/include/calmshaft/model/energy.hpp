// Where the energy is, and the audit of a run: work in = dissipated + stored.
#pragma once

#include "calmshaft/model/dynamics.hpp"

namespace calmshaft {

// Kinetic and elastic energy of the whole line [J]. `crank_inertia` is the table's value at this angle [kg m^2].
double stored_energy(const Model& model, double crank_inertia, const double* state, const Workspace<double>& work);

// 1/2 J w^2 of all stations [J].
double kinetic_energy(const Model& model, double crank_inertia, const double* state);

// Elastic energy of a mesh whose teeth are twisted by so much [rad] from the middle of the backlash [J].
double mesh_energy(const Model::Mesh& mesh, double twist);

// Elastic energy of one coupling at its present twist [J], in the order springs, dampers, meshes.
double coupling_energy(const Model& model, int coupling, const double* state, const Workspace<double>& work);

struct EnergyAudit {
  double gas_work = 0;         // [J] by the cylinders onto the crank
  double starter_work = 0;     // [J] by the starter onto the crank
  double engine_friction = 0;  // [J] dissipated
  double couplings = 0;        // [J] dissipated in plate, teeth and shaft
  double loads = 0;            // [J] taken by propeller and drags
  double stored_change = 0;    // [J] energy at the end less energy at the start
  double defect = 0;           // [J] gas and starter work less all the others: numerical error, nothing else
  double throughput = 0;       // [J] positive work onto the crank, or all dissipation where larger
  double relative_defect() const { return throughput > 0 ? defect / throughput : 0.0; }
};

// Closes the books of a stretch over which the state's work slots were summed from zero; its gas work includes
// the starter's. `dissipated` [J] in all couplings, `stored_change` [J] of the whole line.
EnergyAudit audit_of(const Model& model, const double* state, double dissipated, double stored_change,
                     double starter_work = 0);

}  // namespace calmshaft
