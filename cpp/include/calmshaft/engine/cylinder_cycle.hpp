// Torque of one cylinder's gas on the crank over its working cycle.
#pragma once

#include "calmshaft/engine/cylinder_pressure.hpp"
#include "calmshaft/line/elements.hpp"

namespace calmshaft {

// torque = open + trapped + heat * fired
struct CylinderTorque {
  double open = 0;     // [N m] exhaust gas against crankcase pressure
  double trapped = 0;  // [N m] fresh charge without heat
  double fired = 0;    // [N m/J] by each joule of the cycle's heat

  CylinderTorque& operator+=(const CylinderTorque& other);
};

CylinderTorque operator*(const CylinderTorque& torque, double factor);

class CylinderCycle {
 public:
  explicit CylinderCycle(const Engine& engine);

  CylinderTorque torque(double angle /* [rad] after firing top dead centre, any */) const;
  const CylinderTorque& mean() const { return mean_; }  // over crank angle
  double angle() const { return pressure_.cycle(); }    // [rad] of one cycle

 private:
  CylinderPressure pressure_;
  CylinderTorque mean_;
};

}  // namespace calmshaft
