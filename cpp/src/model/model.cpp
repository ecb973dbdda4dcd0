#include "calmshaft/model/model.hpp"

#include <string>

#include "calmshaft/core/errors.hpp"

namespace calmshaft {
namespace {

void require_within(std::size_t count, int most, const char* what) {
  if (count > static_cast<std::size_t>(most))
    throw SolveError("the line has " + std::to_string(count) + " " + what + ", at most " + std::to_string(most) +
                     " can be integrated: merge neighbours or use fewer shaft divisions");
}

struct SortByKind {
  Model& model;
  void operator()(const LinearSpring& spring) const { model.springs.push_back(spring); }
  void operator()(const StagedDamper& damper) const { model.dampers.push_back(damper); }
  void operator()(const GearMesh& mesh) const { model.meshes.push_back(mesh); }
  void operator()(const SquareLoad& load) const { model.square_loads.push_back(load); }
  void operator()(const Drag& drag) const { model.drags.push_back(drag); }
};

}  // namespace

Model compile(const MassElastic& system, const FrictionTorque& engine_friction) {
  require_within(system.stations.size(), most_stations, "stations");
  require_within(system.couplings.size(), most_couplings, "couplings");
  require_within(system.loads.size(), most_loads, "loads");
  Model model;
  model.stations = static_cast<int>(system.stations.size());
  model.engine_friction = engine_friction;
  for (const Station& station : system.stations) {
    model.inertia.push_back(station.inertia);
    model.speed_ratio.push_back(station.speed_ratio);
  }
  for (const Coupling& coupling : system.couplings) std::visit(SortByKind{model}, coupling);
  for (const Load& load : system.loads) std::visit(SortByKind{model}, load);
  require_within(model.dampers.size(), most_plates, "spring dampers");
  return model;
}

}  // namespace calmshaft
