// Gas pressure in one cylinder over its working cycle, in parts that add up:
//   pressure = open + trapped + heat * per_heat
// Compression and expansion share one polytropic exponent, so the pressure is linear in the heat released
// and a cylinder without fuel gives back at most what it took.
#pragma once

#include <vector>

#include "calmshaft/engine/burn.hpp"
#include "calmshaft/engine/cylinder_volume.hpp"
#include "calmshaft/line/elements.hpp"

namespace calmshaft {

constexpr double crankcase_pressure = 1.01325e5;  // [Pa] standard atmosphere

// p = p1 (V1 / V)^n
double polytropic_pressure(double pressure, double volume_before, double volume_after, double exponent);

struct PressureParts {
  double open;      // [Pa] exhaust gas: does not depend on fuelling
  double trapped;   // [Pa] fresh charge without heat, from filling to its release: scales with the charge
  double per_heat;  // [Pa/J] rise by each joule of the cycle's heat
};

class CylinderPressure {
 public:
  explicit CylinderPressure(const Engine& engine);

  PressureParts at(double angle /* [rad] after firing top dead centre */) const;
  PressureParts at(double angle /* [rad] */, double volume /* [m^3] at that angle */) const;

  const CylinderVolume& volume() const { return volume_; }
  double cycle() const { return cycle_angle(strokes_); }  // [rad]

  // Where the pressure is not smooth [rad]: from the closing inlet over one cycle, ascending, ends included.
  std::vector<double> corners() const;

 private:
  struct Shares {    // they add up to 1
    double closed;   // [-] closed cycle and its release
    double exhaust;  // [-]
    double inlet;    // [-]
  };
  Shares shares(double angle) const;

  Combustion combustion_;
  CylinderVolume volume_;
  int strokes_;
  double trapped_volume_;  // [m^3] when the inlet closes
  BurnIntegral heat_rise_;
};

}  // namespace calmshaft
