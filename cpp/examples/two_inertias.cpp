// Natural frequency of two inertias on one spring, beside its closed form w = sqrt(k (1/J1 + 1/J2)).
#include <cmath>
#include <cstdio>

#include "calmshaft/solve/modes.hpp"

int main() {
  const double engine = 0.5, propeller = 0.1;  // [kg m^2]
  const double shaft = 1000.0;                 // [N m/rad]

  calmshaft::LinearAssembler line(2);
  line.add_inertia(0, engine);
  line.add_inertia(1, propeller);
  line.add_spring(0, 1, 1.0, shaft, 0.0);
  const double computed = calmshaft::modes(line.system()).angular_frequency[1];

  const double exact = std::sqrt(shaft * (1.0 / engine + 1.0 / propeller));
  std::printf("natural frequency %.6f rad/s, closed form %.6f rad/s\n", computed, exact);
  return std::abs(computed - exact) < 1e-9 * exact ? 0 : 1;  // a few rounding errors of the eigenvalue solver
}
