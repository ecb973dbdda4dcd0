#include "calmshaft/engine/quadrature.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <numbers>

using calmshaft::integrate;

TEST_CASE("five Gauss points are exact up to the ninth power") {
  // Gauss-Legendre theory (Abramowitz and Stegun 25.4.30, from memory); rounding only.
  CHECK(integrate<double>([](double x) { return std::pow(x, 9) + x * x; }, 0.0, 2.0, 1) ==
        doctest::Approx(102.4 + 8.0 / 3.0).epsilon(1e-14));
  CHECK(std::abs(integrate<double>([](double x) { return std::pow(x, 10); }, 0.0, 2.0, 1) - 2048.0 / 11.0) >
        1e-3);
}

TEST_CASE("panels cover the whole interval once") {
  CHECK(integrate<double>([](double x) { return std::sin(x); }, 0.0, std::numbers::pi, 7) ==
        doctest::Approx(2.0).epsilon(1e-13));
}
