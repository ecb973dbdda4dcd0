// What one engine cycle of one point left behind, as plain numbers.
#pragma once

#include <array>
#include <vector>

#include "calmshaft/model/energy.hpp"

namespace calmshaft {

struct CycleTotals {
  struct Channel {
    double torque_least, torque_greatest, torque_mean;  // [N m]
    double twist_least, twist_greatest;                 // [rad]
    double drive_time, coast_time;                      // [s] beyond the flanks or stops
    double dissipated;                                  // [J]
  };
  std::array<Channel, most_couplings> channel{};
  double speed_least = 0, speed_greatest = 0;  // [rad/s] of the crank
  double duration = 0;                         // [s]
  double momentum_change = 0;                  // [N m s] of the whole line, referred to the crank
  double dry_friction = 0;                     // [J] dissipated in the plate's dry friction
  EnergyAudit audit;
  std::vector<double> bins;  // [N m] watched torque, triangular means over the cycle

  double ripple(int coupling) const {
    const Channel& c = channel[static_cast<std::size_t>(coupling)];
    return c.torque_greatest - c.torque_least;
  }
  double twist_range(int coupling) const {
    const Channel& c = channel[static_cast<std::size_t>(coupling)];
    return c.twist_greatest - c.twist_least;
  }
};

// The coupling whose torque decides whether the motion repeats: the loaded mesh, in neutral the first
// unloaded pair, else the first coupling.
int watched_coupling(const Model& model);

}  // namespace calmshaft
