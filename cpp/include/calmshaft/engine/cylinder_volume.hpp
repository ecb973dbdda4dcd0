// The space above one piston.
#pragma once

#include "calmshaft/engine/slider_crank.hpp"
#include "calmshaft/line/elements.hpp"

namespace calmshaft {

// Of one cylinder: piston area [m^2] and volumes [m^3] from bore and stroke [m].
double piston_area(double bore);
double swept_volume(double bore, double stroke);
double clearance_volume(double swept, double compression_ratio);

struct CylinderVolume {
  SliderCrank crank;
  double area;       // [m^2] of the piston
  double clearance;  // [m^3] at top dead centre

  // [m^3] at a piston travel [m] and at a crank angle [rad]
  double at_travel(double travel) const { return clearance + area * travel; }
  double at(double angle) const { return at_travel(piston_motion(crank, angle).travel); }
};

SliderCrank slider_crank(const Engine& engine);
MovingParts moving_parts(const Engine& engine);
CylinderVolume cylinder_volume(const Engine& engine);

// Crank angle of one working cycle [rad]: four strokes take two turns.
double cycle_angle(int strokes);

}  // namespace calmshaft
