// Expected figures, unless said otherwise: exact expressions of slider-crank motion evaluated apart from this
// code (double and 30-digit quadrature). Their series are those of Den Hartog, C. F. Taylor and Ker Wilson
// (values from memory), each coefficient checked against the exact expression.
#include "calmshaft/engine/slider_crank.hpp"

#include <doctest/doctest.h>

#include <array>
#include <cmath>
#include <functional>
#include <numbers>

using namespace calmshaft;
using std::numbers::pi;

namespace {

constexpr MovingParts piston_only{1.0, 0.0, 0.0, 0.0};

// Crank of unit radius with r/l = lambda, unit piston: motion per r, inertia per m r^2.
SliderCrank unit_crank(double lambda) { return {1.0, 1.0 / lambda}; }

// 2/N sum f(x) trig(k x): exact for these series, whose terms fall below 1e-16 before order 128.
double coefficient(const std::function<double(double)>& f, double (*trig)(double), int k) {
  constexpr int samples = 256;
  double sum = 0.0;
  for (int j = 0; j < samples; ++j) sum += f(2 * pi * j / samples) * trig(k * 2 * pi * j / samples);
  return 2.0 * sum / samples;
}

double sine(double x) { return std::sin(x); }
double cosine(double x) { return std::cos(x); }

// At constant speed the inertia torque is -1/2 w^2 dJ/dth.
double inertia_torque(double lambda, int k) {
  return coefficient(
      [&](double angle) { return -0.5 * moving_inertia(unit_crank(lambda), piston_only, angle).slope; }, sine,
      k);
}

double acceleration(double lambda, int k) {
  return coefficient([&](double angle) { return piston_motion(unit_crank(lambda), angle).curvature; }, cosine,
                     k);
}

// Angle of the greatest piston speed: the curvature changes sign between top and bottom dead centre.
double fastest_angle(const SliderCrank& crank) {
  double low = 0.0;
  double high = pi;
  for (int i = 0; i < 60; ++i) {
    const double middle = 0.5 * (low + high);
    (piston_motion(crank, middle).curvature > 0 ? low : high) = middle;
  }
  return low;
}

}  // namespace

TEST_CASE("piston acceleration has the known harmonics") {
  // tolerance 1e-7: the printed eight decimals
  CHECK(acceleration(0.25, 1) == doctest::Approx(1.0).epsilon(1e-7));
  CHECK(std::abs(acceleration(0.25, 2) - 0.25402504) < 1e-7);
  CHECK(std::abs(acceleration(0.25, 4) + 0.00409811) < 1e-7);
  CHECK(std::abs(acceleration(0.25, 6) - 0.00007438) < 1e-7);
  CHECK(std::abs(acceleration(0.20, 2) - 0.2020384) < 1e-7);
  CHECK(std::abs(acceleration(0.30, 4) + 0.00723769) < 1e-7);
}

TEST_CASE("inertia torque of a piston has the known harmonics") {
  struct Row {
    double lambda;
    std::array<double, 6> sine;
  };
  const std::array<Row, 3> rows{
      Row{0.25, {0.06350626, -0.50013014, -0.19205557, -0.01612903, 0.00259231, 0.00039032}},
      Row{0.20, {0.05050960, -0.50005207, -0.15230198, -0.01020408, 0.00129849, 0.00015620}},
      Row{0.30, {0.07676266, -0.50027785, -0.23300213, -0.02356020, 0.00460353, 0.00083309}}};
  for (const Row& row : rows) {
    for (int k = 1; k <= 6; ++k) {
      CAPTURE(row.lambda);
      CAPTURE(k);
      CHECK(std::abs(inertia_torque(row.lambda, k) - row.sine[static_cast<std::size_t>(k - 1)]) < 1e-7);
    }
  }
}

TEST_CASE("the fourth order of the inertia torque holds ten digits") {
  CHECK(std::abs(inertia_torque(0.25, 4) + 0.01612903123829) < 1e-10);
  CHECK(std::abs(inertia_torque(0.30, 4) + 0.02356020214862) < 1e-10);
  CHECK(std::abs(inertia_torque(0.50, 4) + 0.07142667344878) < 1e-10);
}

TEST_CASE("the mean inertia of a piston is exact") {
  const auto mean = [](double lambda) {
    return 0.5 *
           coefficient([&](double a) { return moving_inertia(unit_crank(lambda), piston_only, a).value; },
                       cosine, 0);
  };
  CHECK(mean(0.25) == doctest::Approx(0.50806661517).epsilon(1e-9));
  CHECK(mean(0.30) == doctest::Approx(0.51178665092).epsilon(1e-9));
  CHECK(mean(0.50) == doctest::Approx(0.53589838486).epsilon(1e-9));
}

TEST_CASE("the piston is fastest where theory says") {
  // tolerance 1e-8: the printed digits
  const std::array<std::array<double, 3>, 3> rows{
      {{0.25, 1.0308826985, 76.7209780}, {0.30, 1.0443321083, 74.5289308}, {0.50, 1.1232080011, 67.7000359}}};
  for (const auto& [lambda, speed, degrees] : rows) {
    const double angle = fastest_angle(unit_crank(lambda));
    CHECK(piston_motion(unit_crank(lambda), angle).slope == doctest::Approx(speed).epsilon(1e-8));
    CHECK(angle * 180.0 / pi == doctest::Approx(degrees).epsilon(1e-8));
  }
}

TEST_CASE("a quarter-metre crank at 5000 rpm moves its piston at 134.94 m/s") {
  // Data of a published exercise (crank 0.25 m, rod 1 m); the answer is the exact maximum, worked out apart.
  const SliderCrank crank{0.25, 1.0};
  const double speed = piston_motion(crank, fastest_angle(crank)).slope * 5000.0 * pi / 30.0;
  CHECK(speed == doctest::Approx(134.94223).epsilon(1e-6));
}

TEST_CASE("acceleration at the dead centres is 1 + lambda and -(1 - lambda)") {
  // Closed form, found in motor engineers' handbooks (from memory). Rounding of a few operations: 1e-12.
  CHECK(piston_motion(unit_crank(0.25), 0.0).curvature == doctest::Approx(1.25).epsilon(1e-12));
  CHECK(piston_motion(unit_crank(0.25), pi).curvature == doctest::Approx(-0.75).epsilon(1e-12));
}

TEST_CASE("travel runs from zero to the stroke") {
  const SliderCrank crank{0.049, 0.16};
  CHECK(piston_motion(crank, 0.0).travel == 0.0);
  CHECK(piston_motion(crank, pi).travel == doctest::Approx(0.098).epsilon(1e-14));
}

TEST_CASE("a rod as a rigid body equals two masses with a residual inertia") {
  // Identity of the two-mass rod (Den Hartog, from memory): exact. The printed energy has nine digits.
  const SliderCrank crank{0.05, 0.2};
  const MovingParts rod{0.0, 0.8, 0.06, 0.0045};
  const double angle = 0.7;
  const double speed = 150.0;
  const double energy = 0.5 * moving_inertia(crank, rod, angle).value * speed * speed;
  CHECK(energy == doctest::Approx(18.8045414).epsilon(1e-8));

  const double at_big_end = 0.8 * (0.2 - 0.06) / 0.2;
  const double at_small_end = 0.8 * 0.06 / 0.2;
  const double residual = 0.0045 - 0.8 * 0.06 * (0.2 - 0.06);
  CHECK(residual == doctest::Approx(-0.00222).epsilon(1e-12));
  const double lambda = 0.25;
  const double swing = lambda * std::cos(angle) / std::sqrt(1.0 - std::pow(lambda * std::sin(angle), 2));
  const double piston = piston_motion(crank, angle).slope;
  const double by_masses =
      at_big_end * 0.05 * 0.05 + at_small_end * piston * piston + residual * swing * swing;
  CHECK(energy == doctest::Approx(0.5 * by_masses * speed * speed).epsilon(1e-12));
}

TEST_CASE("every derivative agrees with a difference quotient") {
  // Central difference over 2e-4 rad: error of third order 1e-8, rounding 1e-12 of the value.
  const SliderCrank crank{0.049, 0.16};
  const MovingParts parts{0.95, 1.1, 0.052, 0.0055};
  const double h = 1e-4;
  for (double angle = -3.0; angle < 3.2; angle += 0.37) {
    CAPTURE(angle);
    const PistonMotion before = piston_motion(crank, angle - h);
    const PistonMotion now = piston_motion(crank, angle);
    const PistonMotion after = piston_motion(crank, angle + h);
    CHECK(std::abs(now.slope - (after.travel - before.travel) / (2 * h)) < 1e-8 * crank.crank_radius);
    CHECK(std::abs(now.curvature - (after.slope - before.slope) / (2 * h)) < 2e-8 * crank.crank_radius);
    const double quotient =
        (moving_inertia(crank, parts, angle + h).value - moving_inertia(crank, parts, angle - h).value) /
        (2 * h);
    CHECK(std::abs(moving_inertia(crank, parts, angle).slope - quotient) < 1e-9);
  }
}

TEST_CASE("inertia torque has no mean over a turn") {
  CHECK(
      std::abs(coefficient(
          [](double angle) { return moving_inertia({0.049, 0.16}, {0.95, 1.1, 0.052, 0.0055}, angle).slope; },
          cosine, 0)) < 1e-12);
}
