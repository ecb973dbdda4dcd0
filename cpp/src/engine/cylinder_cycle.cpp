#include "calmshaft/engine/cylinder_cycle.hpp"

#include <cstddef>
#include <vector>

#include "calmshaft/engine/quadrature.hpp"

namespace calmshaft {

namespace {

constexpr int panels = 256;  // between two corners of the pressure: error below 1e-9 of the mean

}  // namespace

CylinderTorque& CylinderTorque::operator+=(const CylinderTorque& other) {
  open += other.open;
  trapped += other.trapped;
  fired += other.fired;
  return *this;
}

CylinderTorque operator*(const CylinderTorque& torque, double factor) {
  return {torque.open * factor, torque.trapped * factor, torque.fired * factor};
}

CylinderCycle::CylinderCycle(const Engine& engine) : pressure_(engine) {
  const std::vector<double> corners = pressure_.corners();
  CylinderTorque work;
  for (std::size_t i = 0; i + 1 < corners.size(); ++i) {
    work += integrate<CylinderTorque>([this](double angle) { return torque(angle); }, corners[i],
                                      corners[i + 1], panels);
  }
  mean_ = work * (1.0 / angle());
}

// T = (p - p_crankcase) A dx/dth, x downwards
CylinderTorque CylinderCycle::torque(double angle) const {
  const CylinderVolume& cylinder = pressure_.volume();
  const PistonMotion piston = piston_motion(cylinder.crank, angle);
  const PressureParts pressure = pressure_.at(angle, cylinder.at_travel(piston.travel));
  const double lever = cylinder.area * piston.slope;
  return {(pressure.open - crankcase_pressure) * lever, pressure.trapped * lever, pressure.per_heat * lever};
}

}  // namespace calmshaft
