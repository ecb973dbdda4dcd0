// What shakes a line: the engine's torque on the crank by harmonics of its cycle.
#pragma once

#include <complex>
#include <vector>

#include "calmshaft/engine/engine_tables.hpp"

namespace calmshaft {

inline constexpr int highest_harmonic = 48;  // of the engine cycle: orders 0.5 to 24 of a four-stroke

// Complex amplitudes [N m] of gas torque and inertia torque -1/2 J' w^2 at constant crank speed w [rad/s], harmonic k
// of the cycle at index k, torque = Re[sum of amplitude e^(i k 2 pi angle / cycle)]; index 0 is twice the mean.
// From `samples` of the tables' nodes, a divisor of their number and above twice the highest harmonic.
std::vector<std::complex<double>> excitation(const EngineTables& tables, double fuelling, double speed, int samples);

}  // namespace calmshaft
