// The list of what is measured of one period: name, unit and meaning of each number, in one place.
#pragma once

#include <array>
#include <cstddef>
#include <string_view>

namespace calmshaft {

enum class Measure : std::size_t {
  mesh_torque_ripple,
  mesh_torque_half_range,
  mesh_torque_vibratory,
  mesh_torque_mean,
  mesh_torque_min,
  mesh_torque_max,
  mesh_drive_share,
  mesh_separated_share,
  mesh_coast_share,
  mesh_impact_power,
  unloaded_mesh_torque_ripple,
  unloaded_mesh_separated_share,
  unloaded_mesh_coast_share,
  unloaded_mesh_impact_power,
  plate_twist_min,
  plate_twist_max,
  plate_torque_ripple,
  plate_torque_mean,
  plate_torque_min,
  plate_torque_max,
  plate_stop_share,
  plate_friction_power,
  plate_heat_power,
  cyclic_irregularity,
  brake_torque,
  mean_rpm,
  count
};

inline constexpr std::size_t measure_count = static_cast<std::size_t>(Measure::count);

struct MeasureInfo {
  std::string_view name;
  std::string_view unit;
  std::string_view meaning;
  bool peak;  // taken from extremes: meaningless as a bare number where the motion does not repeat
};

inline constexpr std::array<MeasureInfo, measure_count> measure_list{{
    {"mesh_torque_ripple", "N m", "peak to peak torque in the loaded mesh, at its input side", true},
    {"mesh_torque_half_range", "N m", "half of the peak to peak torque in the loaded mesh, full band", true},
    {"mesh_torque_vibratory", "N m", "vibratory torque in the loaded mesh (half range of orders 0.5 to 12 together)", false},
    {"mesh_torque_mean", "N m", "mean torque over crank angle in the loaded mesh", false},
    {"mesh_torque_min", "N m", "least torque in the loaded mesh", true},
    {"mesh_torque_max", "N m", "greatest torque in the loaded mesh", true},
    {"mesh_drive_share", "1", "share of time with the loaded mesh on its drive flanks", false},
    {"mesh_separated_share", "1", "share of time with the loaded mesh out of contact", false},
    {"mesh_coast_share", "1", "share of time with the loaded mesh on its coast flanks", false},
    {"mesh_impact_power", "W", "power dissipated in the loaded mesh's contacts", false},
    {"unloaded_mesh_torque_ripple", "N m", "peak to peak torque in the unloaded pair, the largest of all pairs", true},
    {"unloaded_mesh_separated_share", "1", "share of time out of contact, the largest of all unloaded pairs", false},
    {"unloaded_mesh_coast_share", "1", "share of time on the coast flanks, the largest of all unloaded pairs", false},
    {"unloaded_mesh_impact_power", "W", "power dissipated in the contacts of all unloaded pairs together", false},
    {"plate_twist_min", "rad", "least twist of the plate, from the middle of its free play", true},
    {"plate_twist_max", "rad", "greatest twist of the plate, from the middle of its free play", true},
    {"plate_torque_ripple", "N m", "peak to peak torque through the plate", true},
    {"plate_torque_mean", "N m", "mean torque over crank angle through the plate", false},
    {"plate_torque_min", "N m", "least torque through the plate", true},
    {"plate_torque_max", "N m", "greatest torque through the plate", true},
    {"plate_stop_share", "1", "share of time with the plate's hub on a stop", false},
    {"plate_friction_power", "W", "power dissipated by the plate's dry friction", false},
    {"plate_heat_power", "W", "power dissipated in the plate by friction, damping and stops together", false},
    {"cyclic_irregularity", "1", "greatest less least flywheel speed over its mean", true},
    {"brake_torque", "N m", "mean gas torque less engine friction, at the flywheel", false},
    {"mean_rpm", "rpm", "mean crank speed", false},
}};

// Values by Measure; NaN where the line has no such part.
using Measures = std::array<double, measure_count>;

constexpr std::size_t index_of(Measure measure) { return static_cast<std::size_t>(measure); }

}  // namespace calmshaft
