#include "calmshaft/model/statics.hpp"

#include <algorithm>
#include <cmath>

#include "calmshaft/model/dynamics.hpp"

namespace calmshaft {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

struct Link {
  int from;
  int to;
  double ratio;
};

std::vector<Link> links_of(const Model& model) {
  std::vector<Link> links;
  for (const LinearSpring& spring : model.springs) links.push_back({spring.from, spring.to, 1.0});
  for (const StagedDamper& damper : model.dampers) links.push_back({damper.from, damper.to, 1.0});
  for (const GearMesh& mesh : model.meshes) links.push_back({mesh.from, mesh.to, mesh.ratio});
  return links;
}

// Torque that the loads take from each station, and its slope by that station's speed.
void gather_loads(const Model& model, double crank_speed, std::vector<double>& torque, std::vector<double>& slope) {
  for (const SquareLoad& load : model.square_loads) {
    const double speed = model.speed_ratio[at(load.station)] * crank_speed;
    torque[at(load.station)] += square_torque(load, speed, speed);
    slope[at(load.station)] += 2.0 * load.coefficient * std::fabs(speed);
  }
  for (const Drag& drag : model.drags)
    torque[at(drag.station)] += drag.torque * direction(model.speed_ratio[at(drag.station)] * crank_speed);
}

struct OperatingPoint {
  double twist;
  double stiffness;
};

// Twist at which one side's stages carry a torque, by walking outwards from corner to corner.
OperatingPoint stage_point(const StagedDamper& damper, double torque) {
  const double side = torque < 0 ? -1.0 : 1.0;
  double carried = 0.0, slope = 0.0, corner = 0.0;
  for (const Ramp& ramp : damper.ramps) {
    if (ramp.side != side) continue;
    const double at_corner = carried + slope * (ramp.corner - corner);
    if (slope > 0 && at_corner >= std::fabs(torque)) break;
    carried = at_corner;
    corner = ramp.corner;
    slope += ramp.slope;
  }
  const double beyond = slope > 0 ? (std::fabs(torque) - carried) / slope : 0.0;
  return {side * (corner + beyond), slope};
}

// A linear spring and a stop in parallel past the stop angle.
OperatingPoint damper_point(const StagedDamper& damper, double torque) {
  const OperatingPoint stages = stage_point(damper, torque);
  const double stop = torque < 0 ? damper.coast_stop : damper.drive_stop;
  if (std::fabs(stages.twist) <= stop) return stages;
  const double stiffness = stages.stiffness + damper.stop.stiffness;
  const double excess = std::fabs(torque) - std::fabs(elastic_torque(damper, std::copysign(stop, torque)));
  return {std::copysign(stop + excess / stiffness, torque), stiffness};
}

void set_operating_points(const Model& model, MeanState& mean) {
  int i = 0;
  const auto set = [&](double twist, double stiffness, double damping) {
    mean.coupling_twist[at(i)] = twist;
    mean.coupling_stiffness[at(i)] = stiffness;
    mean.coupling_damping[at(i++)] = damping;
  };
  for (const LinearSpring& spring : model.springs)
    set(mean.coupling_torque[at(i)] / spring.stiffness, spring.stiffness, spring.damping);
  for (const StagedDamper& damper : model.dampers) {
    const OperatingPoint point = damper_point(damper, mean.coupling_torque[at(i)]);
    set(point.twist, point.stiffness, damper.damping);
  }
  for (const GearMesh& mesh : model.meshes) {
    const double torque = mean.coupling_torque[at(i)];
    const double side = torque < 0 ? -1.0 : 1.0;
    set(side * mesh.half_backlash + torque / mesh.contact.stiffness, mesh.contact.stiffness,
        std::fabs(torque) * mesh.contact.damping_factor);
  }
}

}  // namespace

MeanState mean_state(const Model& model, double crank_speed) {
  MeanState mean;
  const std::size_t couplings = at(model.couplings());
  for (auto* column : {&mean.coupling_torque, &mean.coupling_twist, &mean.coupling_stiffness, &mean.coupling_damping})
    column->assign(couplings, 0.0);
  std::vector<double> torque(at(model.stations), 0.0);
  std::vector<double> slope(at(model.stations), 0.0);
  gather_loads(model, crank_speed, torque, slope);
  torque[0] += friction_torque(model.engine_friction, crank_speed);
  slope[0] += model.engine_friction.per_speed + 2.0 * model.engine_friction.per_speed_squared * crank_speed;
  const std::vector<Link> links = links_of(model);
  for (int station = model.stations - 1; station > 0; --station) {  // from the ends towards the crank
    const auto link = std::find_if(links.begin(), links.end(), [&](const Link& l) { return l.to == station; });
    const double ratio = link->ratio;
    mean.coupling_torque[at(static_cast<int>(link - links.begin()))] = torque[at(station)] / ratio;
    torque[at(link->from)] += torque[at(station)] / ratio;
    slope[at(link->from)] += slope[at(station)] / (ratio * ratio);
  }
  mean.resistance = torque[0];
  mean.resistance_slope = slope[0];
  set_operating_points(model, mean);
  return mean;
}

}  // namespace calmshaft
