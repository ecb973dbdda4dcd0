#include "calmshaft/model/model.hpp"

#include <algorithm>
#include <string>

#include "calmshaft/core/errors.hpp"

namespace calmshaft {
namespace {

void require_room(int count, int most, const char* what) {
  if (count >= most)
    throw SolveError("the line has more than " + std::to_string(most) + " " + what +
                     ": merge neighbours, or use fewer shaft divisions or plate stages");
}

struct SortByKind {
  Model& model;

  void operator()(const LinearSpring& spring) const {
    require_room(model.couplings(), most_couplings, "couplings");
    model.spring_joint[model.springs] = {spring.from, spring.to};
    model.spring[model.springs++] = {spring.stiffness, spring.damping};
  }
  void operator()(const StagedDamper& damper) const {
    require_room(model.couplings(), most_couplings, "couplings");
    require_room(model.dampers, most_dampers, "spring dampers");
    model.damper_joint[model.dampers] = {damper.from, damper.to};
    Model::Damper& made = model.damper[model.dampers++];
    const double slider = damper.friction_torque > 0 ? damper.friction_torque / damper.presliding_angle : 0.0;
    made = {0, {}, damper.damping, slider, damper.presliding_angle, damper.drive_stop, damper.coast_stop,
            {damper.stop.stiffness, damper.stop.damping_factor}};
    for (const Ramp& ramp : damper.ramps) {
      require_room(made.ramps, most_ramps, "corners of plate stages");
      made.ramp[made.ramps++] = {ramp.side, ramp.corner, ramp.slope};
    }
  }
  void operator()(const GearMesh& mesh) const {
    require_room(model.couplings(), most_couplings, "couplings");
    model.mesh_joint[model.meshes] = {mesh.from, mesh.to};
    model.mesh[model.meshes++] = {
        mesh.loaded, mesh.ratio, mesh.half_backlash, {mesh.contact.stiffness, mesh.contact.damping_factor}};
  }
  void operator()(const SquareLoad& load) const {
    require_room(model.square_loads, most_square_loads, "propellers");
    model.square_load_at[model.square_loads] = load.station;
    model.square_load[model.square_loads++] = {load.coefficient, load.extra_damping};
  }
  void operator()(const Drag& drag) const {
    require_room(model.drags, most_drags, "drags");
    model.drag_at[model.drags] = drag.station;
    model.drag[model.drags++] = {drag.torque};
  }
};

template <class Element, class Same>
bool all_same(const Element* a, const Element* b, int count, const Same& same) {
  return std::equal(a, a + count, b, same);
}

bool same_damper(const Model::Damper& a, const Model::Damper& b) {
  const auto same_side = [](const auto& p, const auto& q) { return p.side == q.side; };
  return a.ramps == b.ramps && all_same(a.ramp, b.ramp, a.ramps, same_side);
}

}  // namespace

bool same_shape(const Model& a, const Model& b) {
  const auto same_mesh = [](const auto& p, const auto& q) { return p.loaded == q.loaded; };
  return have_same_joints(a, b) && all_same(a.damper, b.damper, a.dampers, same_damper) &&
         all_same(a.mesh, b.mesh, a.meshes, same_mesh);
}

Model compile(const MassElastic& system, const FrictionTorque& engine_friction) {
  Model model{};
  for (const Station& station : system.stations) {
    require_room(model.stations, most_stations, "stations");
    model.inertia[model.stations] = station.inertia;
    model.inverse_inertia[model.stations] = 1.0 / station.inertia;
    model.speed_ratio[model.stations++] = station.speed_ratio;
  }
  for (const Coupling& coupling : system.couplings) std::visit(SortByKind{model}, coupling);
  for (const Load& load : system.loads) std::visit(SortByKind{model}, load);
  model.friction_constant = engine_friction.constant;
  model.friction_per_speed = engine_friction.per_speed;
  model.friction_per_speed_squared = engine_friction.per_speed_squared;
  return model;
}

}  // namespace calmshaft
