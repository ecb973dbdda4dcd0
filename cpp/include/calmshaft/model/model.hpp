// The mass-elastic system compiled for the equations: couplings and loads by kind, fixed limits,
// and the layout of the state vector.
#pragma once

#include <vector>

#include "calmshaft/engine/friction.hpp"
#include "calmshaft/model/mass_elastic.hpp"

namespace calmshaft {

inline constexpr int most_stations = 12;
inline constexpr int most_couplings = 16;
inline constexpr int most_plates = 2;
inline constexpr int most_loads = 16;

// State: [clock or crank angle | q_1..q_n-1 | w_0..w_n-1 | work done so far].
// q_i = angle_i - speed_ratio_i * crank angle [rad], w_i own speed [rad/s], work [J] in the order
// gas, engine friction, couplings (springs, dampers, meshes), dry friction of each damper, loads (square, drags).
struct Model {
  int stations = 0;
  std::vector<double> inertia;      // [kg m^2] by station
  std::vector<double> speed_ratio;  // [-] by station
  std::vector<LinearSpring> springs;
  std::vector<StagedDamper> dampers;
  std::vector<GearMesh> meshes;
  std::vector<SquareLoad> square_loads;
  std::vector<Drag> drags;
  FrictionTorque engine_friction{};

  int couplings() const { return static_cast<int>(springs.size() + dampers.size() + meshes.size()); }
  int loads() const { return static_cast<int>(square_loads.size() + drags.size()); }
  int first_damper() const { return static_cast<int>(springs.size()); }
  int first_mesh() const { return first_damper() + static_cast<int>(dampers.size()); }
  int speed_slot(int station) const { return stations + station; }
  int gas_work_slot() const { return 2 * stations; }
  int engine_friction_slot() const { return gas_work_slot() + 1; }
  int coupling_work_slot(int coupling) const { return gas_work_slot() + 2 + coupling; }
  int dry_friction_slot(int damper) const { return coupling_work_slot(couplings()) + damper; }
  int load_work_slot(int load) const { return dry_friction_slot(static_cast<int>(dampers.size())) + load; }
  int state_size() const { return load_work_slot(loads()); }
};

// Throws SolveError when the system is larger than the limits above.
Model compile(const MassElastic& system, const FrictionTorque& engine_friction);

}  // namespace calmshaft
