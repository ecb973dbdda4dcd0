// When the cylinders fire, and how their orders add up.
#pragma once

#include <complex>
#include <vector>

namespace calmshaft {

// Evenly spaced firing top dead centres [rad] by cylinder number, cylinder 1 at zero.
// order: cylinder numbers, each of 1 to N once; LineError otherwise.
std::vector<double> firing_angles(const std::vector<int>& order, int strokes);

// S(p) = sum over cylinders of strength * exp(i p angle); p per crank revolution, angles [rad].
// strengths empty: all 1.
std::complex<double> firing_phasor(double order, const std::vector<double>& angles,
                                   const std::vector<double>& strengths = {});

}  // namespace calmshaft
