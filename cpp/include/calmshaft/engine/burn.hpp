// How the heat is released: the Wiebe function, and integrals weighted by it.
#pragma once

#include <functional>
#include <vector>

#include "calmshaft/line/elements.hpp"

namespace calmshaft {

// x = 1 - exp(-a tau^(m+1)), tau = (angle - start) / duration within 0 and 1.
struct Wiebe {
  double start;        // [rad] after firing top dead centre
  double duration;     // [rad]
  double coefficient;  // [-] a
  double exponent;     // [-] m, above -1
};

Wiebe wiebe(const Combustion& combustion);

double wiebe_burnt_fraction(const Wiebe& burn, double angle /* [rad] */);  // [-]
double wiebe_burn_rate(const Wiebe& burn, double angle /* [rad] */);       // [1/rad]

// The integral of weight(angle) dx from the start of burning, tabulated once; reads in constant time.
class BurnIntegral {
 public:
  BurnIntegral(const Wiebe& burn, const std::function<double(double)>& weight);
  double at(double angle /* [rad] */) const;  // in the unit of the weight

 private:
  Wiebe burn_;
  std::vector<double> value_;
  std::vector<double> slope_;  // per cell of the table
};

}  // namespace calmshaft
