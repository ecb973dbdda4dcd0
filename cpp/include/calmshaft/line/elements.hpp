// The parts of a line as the builder knows them: plain values in SI, no equations.
// Every inertia and angle is in its own shaft's frame; positive is the direction that drives ahead.
#pragma once

#include <limits>
#include <optional>
#include <string>
#include <vector>

namespace calmshaft {

enum class Fuel { diesel, petrol };

struct Combustion {
  double burn_start;           // [rad] after firing top dead centre
  double burn_duration;        // [rad]
  double burn_coefficient;     // [-] a of the Wiebe function
  double burn_exponent;        // [-] m of the Wiebe function
  double polytropic_exponent;  // [-] compression and expansion alike
  double inlet_pressure;       // [Pa] absolute, in the cylinder while the inlet is open
  double exhaust_pressure;     // [Pa] absolute, in the cylinder while the exhaust is open
  double inlet_closes;         // [rad] after firing top dead centre, negative: start of the closed cycle
  double exhaust_opens;        // [rad] after firing top dead centre: end of the closed cycle

  bool operator==(const Combustion&) const = default;
};

// Mean effective friction pressure: constant + per_speed * w + per_piston_speed_squared * (mean piston speed)^2.
struct EngineFriction {
  double constant;                  // [Pa]
  double per_speed;                 // [Pa s/rad] of crank speed
  double per_piston_speed_squared;  // [Pa s^2/m^2]

  bool operator==(const EngineFriction&) const = default;
};

struct Engine {
  int strokes = 4;                    // 2 or 4
  Fuel fuel = Fuel::diesel;
  std::vector<double> firing_angles;  // [rad] crank angle of firing top dead centre, by cylinder number
  double bore = 0;                    // [m]
  double stroke = 0;                  // [m]
  double rod_length = 0;              // [m] between bore centres
  double compression_ratio = 0;       // [-]
  double piston_mass = 0;             // [kg] with pin and rings
  double rod_mass = 0;                // [kg]
  double rod_centre_from_big_end = 0; // [m] centre of mass
  double rod_inertia = 0;             // [kg m^2] about its centre of mass
  double crank_inertia = 0;           // [kg m^2] without rods and flywheel
  double rated_torque = 0;            // [N m] brake
  double rated_speed = 0;             // [rad/s]
  Combustion combustion{};
  EngineFriction friction{};

  bool operator==(const Engine&) const = default;
};

struct PlateStage {
  double stiffness;  // [N m/rad]
  double until;      // [rad] twist from the middle of the free play where the next stage begins
};

struct PlateSide {
  std::vector<PlateStage> stages;  // from the middle outwards; the last one runs on past its end
  double stop_angle = std::numeric_limits<double>::infinity();  // [rad] from the middle of the free play
};

// The spring damper plate between flywheel and gearbox input.
struct Plate {
  bool rigid = false;                // a solid drive: flywheel and gearbox input turn as one
  double hub_inertia = 0;            // [kg m^2] turns with the gearbox input
  std::optional<double> rated_torque;  // [N m] as its maker states it
  double free_play = 0;              // [rad] whole width, both directions
  double hysteresis_full_width = 0;  // [N m] twice the friction torque
  double presliding_angle = 0;       // [rad] twist from a reversal to full sliding from rest
  double viscous_damping = 0;        // [N m s/rad]
  double stop_stiffness = 0;         // [N m/rad]
  double stop_restitution = 0.8;     // [-]
  PlateSide drive;
  PlateSide coast;
};

// Tooth contact of one gear pair, all values at the gearbox input shaft.
struct ToothContact {
  double backlash = 0;             // [rad] whole width, both directions
  double stiffness = 0;            // [N m/rad]
  double restitution = 0.8;        // [-] at restitution_speed
  double restitution_speed = 0.5;  // [rad/s] approach speed at which restitution holds
};

struct LoadedPair {
  double ratio = 1;           // [-] input turns per output turn, positive; astern turns it round
  double output_inertia = 0;  // [kg m^2] at the output shaft
  ToothContact contact;
};

// A gear pair that turns along without load; its teeth rattle.
struct UnloadedPair {
  std::string name;
  bool turns_in_ahead = true;
  bool turns_in_astern = true;
  bool turns_in_neutral = true;
  double inertia = 0;  // [kg m^2] at the input shaft
  double drag = 0;     // [N m] at the gear pair
  ToothContact contact;
};

struct Gearbox {
  double rated_torque = 0;    // [N m] at the input
  double input_inertia = 0;   // [kg m^2] all that always turns with the input, without the unloaded pairs
  double input_drag = 0;      // [N m] pump and seals
  std::optional<LoadedPair> ahead;
  std::optional<LoadedPair> astern;
  std::vector<UnloadedPair> unloaded;
};

struct Shaft {
  double stiffness = 0;       // [N m/rad] whole length
  double inertia = 0;         // [kg m^2] whole length
  double damping_ratio = 0;   // [-] of critical, at the shaft's own vibration against its two ends
  int divisions = 1;          // springs in series; each carries half its inertia to either end
};

struct Propeller {
  double inertia = 0;         // [kg m^2] dry
  double water_inertia = 0;   // [kg m^2] entrained water
  double absorbs_torque = 0;  // [N m] at the gearbox input, drags included, under way ahead
  double absorbs_speed = 0;   // [rad/s] crank speed of that torque
  double tied_up_factor = 1.25;  // [-] torque tied up over torque under way at one speed
  double extra_damping = 0.5;    // [-] times mean torque over mean speed, on top of the square law's 2
};

}  // namespace calmshaft
