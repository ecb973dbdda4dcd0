#include "calmshaft/simulate/crank_curve.hpp"

#include <cmath>

namespace calmshaft {

CrankCurve::CrankCurve(const EngineTables& tables, const std::vector<double>& faulty)
    : nodes_per_angle_(tables.nodes / tables.cycle), nodes_per_cycle_(tables.nodes) {
  const auto count = static_cast<std::size_t>(tables.nodes);
  for (std::size_t i = 0; i < count + 3; ++i) {
    const std::size_t node = (i + count - 1) % count;
    nodes_.push_back({tables.inertia[node], tables.inertia_slope[node], tables.base_torque[node],
                      tables.fuelled_torque[node], faulty[node]});
  }
}

CrankDrive<double> CrankCurve::at(double angle, double fuelling, double fault) const {
  const double place = angle * nodes_per_angle_;
  const double in_cycle = place - nodes_per_cycle_ * std::floor(place / nodes_per_cycle_);
  const double whole = std::floor(in_cycle);
  const double t = in_cycle - whole;
  const Node* node = &nodes_[static_cast<std::size_t>(whole)];
  // Catmull-Rom: b + t/2 (c - a + t (2a - 5b + 4c - d + t (3 (b - c) + d - a)))
  const double before = 0.5 * t * (-1.0 + t * (2.0 - t)), here = 1.0 + 0.5 * t * t * (3.0 * t - 5.0);
  const double next = 0.5 * t * (1.0 + t * (4.0 - 3.0 * t)), after = 0.5 * t * t * (t - 1.0);
  Node value;
  for (std::size_t i = 0; i < channels; ++i)
    value[i] = before * node[0][i] + here * node[1][i] + next * node[2][i] + after * node[3][i];
  const double fuelled = value[fuelled_torque] + fault * (value[faulty_torque] - value[fuelled_torque]);
  return {value[base_torque] + fuelling * fuelled, value[inertia], value[inertia_slope]};
}

}  // namespace calmshaft
