// Piston, rod and crank pin: exact motion per radian of crank angle, counted from top dead centre.
#pragma once

namespace calmshaft {

struct SliderCrank {
  double crank_radius;  // [m] half the stroke
  double rod_length;    // [m] between bore centres
};

struct PistonMotion {
  double travel;     // [m] downwards from top dead centre
  double slope;      // [m/rad]
  double curvature;  // [m/rad^2]
};

PistonMotion piston_motion(const SliderCrank& crank, double angle /* [rad] */);

struct MovingParts {
  double piston_mass;              // [kg] with pin and rings
  double rod_mass;                 // [kg]
  double rod_centre_from_big_end;  // [m] centre of mass
  double rod_inertia;              // [kg m^2] about its centre of mass
};

struct Inertia {
  double value;  // [kg m^2] referred to the crank
  double slope;  // [kg m^2/rad] change with crank angle
};

// Piston and rod of one cylinder referred to the crank; the rod is a rigid body, not two point masses.
Inertia moving_inertia(const SliderCrank& crank, const MovingParts& parts, double angle /* [rad] */);

}  // namespace calmshaft
