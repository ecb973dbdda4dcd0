#include "calmshaft/model/statics.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

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
  const auto link = [&](Ends ends, double ratio) { links.push_back({ends.from, ends.to, ratio}); };
  for (int i = 0; i < model.springs; ++i) link(model.spring_ends(i), 1.0);
  for (int i = 0; i < model.dampers; ++i) link(model.damper_ends(i), 1.0);
  for (int i = 0; i < model.meshes; ++i) link(model.mesh_ends(i), model.mesh[i].ratio);
  return links;
}

// Torque that the loads take from each station, and its slope by that station's speed.
void gather_loads(const Model& model, double crank_speed, std::vector<double>& torque, std::vector<double>& slope) {
  for (int i = 0; i < model.square_loads; ++i) {
    const auto& load = model.square_load[i];
    const int station = model.square_load_station(i);
    const double speed = model.speed_ratio[station] * crank_speed;
    torque[at(station)] += square_torque(load, speed, speed);
    slope[at(station)] += 2.0 * load.coefficient * std::fabs(speed);
  }
  for (int i = 0; i < model.drags; ++i)
    torque[at(model.drag_station(i))] +=
        model.drag[i].torque * direction(model.speed_ratio[model.drag_station(i)] * crank_speed);
}

struct OperatingPoint {
  double twist;
  double stiffness;
};

// Twist at which one side's stages carry a torque, by walking outwards from corner to corner.
OperatingPoint stage_point(const Model::Damper& damper, double torque) {
  const double side = torque < 0 ? -1.0 : 1.0;
  double carried = 0.0, slope = 0.0, corner = 0.0;
  for (int i = 0; i < damper.ramps; ++i) {
    const auto& ramp = damper.ramp[i];
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

// Past the stop angle the stop acts beside the last stage.
OperatingPoint damper_point(const Model::Damper& damper, double torque) {
  const OperatingPoint stages = stage_point(damper, torque);
  const double stop = torque < 0 ? damper.coast_stop : damper.drive_stop;
  if (std::fabs(stages.twist) <= stop) return stages;
  const double stiffness = stages.stiffness + damper.stop.stiffness;
  const double excess = std::fabs(torque) - std::fabs(elastic_torque(damper, std::copysign(stop, torque)));
  return {std::copysign(stop + excess / stiffness, torque), stiffness};
}

void set_operating_points(const Model& model, MeanState& mean) {
  std::size_t next = 0;
  const auto set = [&](double twist, double stiffness, double damping) {
    mean.coupling_twist[next] = twist;
    mean.coupling_stiffness[next] = stiffness;
    mean.coupling_damping[next++] = damping;
  };
  for (int i = 0; i < model.springs; ++i) {
    const auto& spring = model.spring[i];
    set(mean.coupling_torque[next] / spring.stiffness, spring.stiffness, spring.damping);
  }
  for (int i = 0; i < model.dampers; ++i) {
    const OperatingPoint point = damper_point(model.damper[i], mean.coupling_torque[next]);
    set(point.twist, point.stiffness, model.damper[i].damping);
  }
  for (int i = 0; i < model.meshes; ++i) {
    const auto& mesh = model.mesh[i];
    const double torque = mean.coupling_torque[next];
    set(std::copysign(mesh.half_backlash, torque) + torque / mesh.contact.stiffness, mesh.contact.stiffness,
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
  torque[0] += engine_friction(model, crank_speed);
  slope[0] += model.friction_per_speed + 2.0 * model.friction_per_speed_squared * crank_speed;
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

double softest_stage(const Model::Damper& damper) {
  double softest = std::numeric_limits<double>::infinity();
  for (const double side : {1.0, -1.0}) {
    double slope = 0.0;  // ramps hold its changes, from the middle outwards
    for (int i = 0; i < damper.ramps; ++i) {
      if (damper.ramp[i].side != side) continue;
      slope += damper.ramp[i].slope;
      softest = std::min(softest, slope);
    }
  }
  return softest;
}

}  // namespace calmshaft
