#include "calmshaft/engine/burn.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "calmshaft/engine/quadrature.hpp"

namespace calmshaft {

namespace {

constexpr int cells = 1024;  // cubic Hermite between them: error below 1e-9 of the whole

// The table runs over v = tau^(1/4): x = 1 - exp(-a v^(4 (m+1))) is smooth in v also where its second
// derivative to tau is infinite at the start (m < 1).
constexpr double grading = 4.0;

double fraction_of_duration(const Wiebe& burn, double angle) {
  return std::clamp((angle - burn.start) / burn.duration, 0.0, 1.0);
}

// dx/dv = a q v^(q-1) exp(-a v^q), q = 4 (m+1)
double graded_rate(const Wiebe& burn, double v) {
  const double q = grading * (burn.exponent + 1.0);
  const double power = std::pow(v, q - 1.0);
  return burn.coefficient * q * power * std::exp(-burn.coefficient * power * v);
}

}  // namespace

Wiebe wiebe(const Combustion& combustion) {
  return {combustion.burn_start, combustion.burn_duration, combustion.burn_coefficient,
          combustion.burn_exponent};
}

double wiebe_burnt_fraction(const Wiebe& burn, double angle) {
  return -std::expm1(-burn.coefficient * std::pow(fraction_of_duration(burn, angle), burn.exponent + 1.0));
}

// dx/dth = (a (m+1) / D) tau^m exp(-a tau^(m+1)), zero before and after
double wiebe_burn_rate(const Wiebe& burn, double angle) {
  const double tau = (angle - burn.start) / burn.duration;
  if (tau <= 0.0 || tau > 1.0) return 0.0;
  const double power = std::pow(tau, burn.exponent);
  return burn.coefficient * (burn.exponent + 1.0) / burn.duration * power *
         std::exp(-burn.coefficient * power * tau);
}

BurnIntegral::BurnIntegral(const Wiebe& burn, const std::function<double(double)>& weight) : burn_(burn) {
  const auto integrand = [&](double v) {
    const double square = v * v;
    return weight(burn.start + burn.duration * square * square) * graded_rate(burn, v);
  };
  const double width = 1.0 / cells;
  value_.push_back(0.0);
  slope_.push_back(integrand(0.0) * width);
  for (int i = 0; i < cells; ++i) {
    value_.push_back(value_.back() + integrate<double>(integrand, i * width, (i + 1) * width, 1));
    slope_.push_back(integrand((i + 1) * width) * width);
  }
}

double BurnIntegral::at(double angle) const {
  const double v = std::sqrt(std::sqrt(fraction_of_duration(burn_, angle))) * cells;
  const auto i = std::min(static_cast<std::size_t>(v), static_cast<std::size_t>(cells - 1));
  const double u = v - static_cast<double>(i);
  const double w = 1.0 - u;
  return w * w * ((1.0 + 2.0 * u) * value_[i] + u * slope_[i]) +
         u * u * ((1.0 + 2.0 * w) * value_[i + 1] - w * slope_[i + 1]);
}

}  // namespace calmshaft
