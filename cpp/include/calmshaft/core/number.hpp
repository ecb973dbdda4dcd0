// The few functions that the equations need from their number type, for plain doubles.
// Another number type (a pack of sweep points) brings the same functions in its own namespace.
#pragma once

#include <cmath>
#include <numeric>
#include <span>

namespace calmshaft {

// Where a is not a number, b; so limited() of NaN is the lower limit.
inline double larger(double a, double b) { return a > b ? a : b; }
inline double smaller(double a, double b) { return a < b ? a : b; }
inline double limited(double a, double low, double high) { return smaller(larger(a, low), high); }
inline double where_positive(double test, double a, double b) { return test > 0 ? a : b; }
inline bool any_positive(double a) { return a > 0; }
inline double magnitude(double a) { return std::fabs(a); }

inline double mean_of(std::span<const double> values) {
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

}  // namespace calmshaft
