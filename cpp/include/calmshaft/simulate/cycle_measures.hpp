// Measures of one or more whole engine cycles from their totals.
#pragma once

#include <complex>
#include <span>
#include <vector>

#include "calmshaft/measure/measures.hpp"
#include "calmshaft/simulate/cycle_totals.hpp"

namespace calmshaft {

// Bins of the watched torque that a cycle's steps are divided into, enough for order 24; 0: they cannot be.
int bins_for(int steps_per_cycle);

inline constexpr int reported_order = 24, vibratory_order = 12;  // the highest

// Complex order amplitudes [N m] of the watched torque over the average of the cycles; slot k is order (k + 1) / 2.
std::vector<std::complex<double>> orders_of(std::span<const CycleTotals> cycles, int strokes, int steps,
                                            int highest = reported_order);

// `cycles` are one whole period, or a single cycle. Vibratory torque is that of `orders`, which belong to them.
Measures measures_of(const Model& model, std::span<const CycleTotals> cycles, double cycle_angle,
                     std::span<const std::complex<double>> orders);

}  // namespace calmshaft
