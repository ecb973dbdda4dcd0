// The crank's tables at any crank angle: a cubic through the four nodes around it.
#pragma once

#include <array>
#include <vector>

#include "calmshaft/engine/engine_tables.hpp"
#include "calmshaft/model/dynamics.hpp"

namespace calmshaft {

class CrankCurve {
 public:
  explicit CrankCurve(const EngineTables& tables) : CrankCurve(tables, tables.fuelled_torque) {}
  // With the fuelled torque [N m] of a second set of cylinder strengths.
  CrankCurve(const EngineTables& tables, const std::vector<double>& faulty_torque);

  // `fault` [-]: 0 takes the first strengths, 1 the second.
  CrankDrive<double> at(double angle, double fuelling, double fault = 0) const;

 private:
  enum Channel { inertia, inertia_slope, base_torque, fuelled_torque, faulty_torque, channels };
  using Node = std::array<double, channels>;

  double nodes_per_angle_;   // [1/rad]
  double nodes_per_cycle_;   // [-]
  std::vector<Node> nodes_;  // one before the cycle and two after it, so that no cubic wraps round
};

}  // namespace calmshaft
