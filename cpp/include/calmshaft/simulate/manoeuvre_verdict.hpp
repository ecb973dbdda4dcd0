// How a manoeuvre ended, in a status and a sentence.
#pragma once

#include <span>

#include "calmshaft/simulate/manoeuvre_meter.hpp"

namespace calmshaft {

// Sets status and reason of a history that has run.
void judge(History& history, const ManoeuvreLine& line, const ManoeuvreSystem& system, const ManoeuvreMeter& meter,
           const Schedule& schedule, const ManoeuvreOptions& options);

// Swing of a signal that still goes up and down at its end: the last change between two of its turning points, where
// there are two that differ by more than `threshold` [unit of the signal]; else 0.
double lasting_swing(std::span<const double> values, double threshold);

}  // namespace calmshaft
