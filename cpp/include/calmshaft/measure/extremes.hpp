// Least and greatest value of an evenly sampled signal, peaks between samples included.
#pragma once

#include <span>

namespace calmshaft {

struct Extremes {
  double least;     // [unit of the signal]
  double greatest;  // [unit of the signal]

  double ripple() const { return greatest - least; }              // peak to peak
  double half_range() const { return 0.5 * (greatest - least); }  // half of it
};

// `periodic`: the first sample follows the last one (the end of the period is not repeated).
// A NaN among the samples makes both values NaN. Throws std::invalid_argument when there is no sample.
Extremes extremes(std::span<const double> samples, bool periodic);

}  // namespace calmshaft
