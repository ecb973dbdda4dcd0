#include "calmshaft/measure/extremes.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <limits>
#include <numbers>
#include <stdexcept>
#include <vector>

using namespace calmshaft;

namespace {

std::vector<double> sine(int points, double phase) {
  std::vector<double> samples;
  for (int n = 0; n < points; ++n) samples.push_back(std::sin(2.0 * std::numbers::pi * n / points + phase));
  return samples;
}

}  // namespace

TEST_CASE("a sine with few points a period keeps its peaks wherever the samples fall") {
  // Source: closed form. With h the spacing, samples alone miss up to h^2 / 8, the parabola up to
  // h^4 s^2 (1 - s^2) / 8 with s <= 1/2 the distance of the top from its sample in spacings: 3/128 h^4.
  for (const int points : {12, 24, 60}) {
    const double h = 2.0 * std::numbers::pi / points;
    const double allowed = 1.01 * 3.0 / 128.0 * std::pow(h, 4);  // 1 % for the next term of the series
    for (int step = 0; step <= 50; ++step) {
      const Extremes found = extremes(sine(points, step * h / 50.0), true);
      CHECK(std::fabs(found.greatest - 1.0) < allowed);
      CHECK(std::fabs(found.least + 1.0) < allowed);
      CHECK(found.ripple() == 2.0 * found.half_range());
    }
  }
}

TEST_CASE("a parabola is found exactly between its samples") {
  // Source: the refinement is exact for a parabola; top 5 at x = 1.3.
  std::vector<double> samples;
  for (int x = 0; x < 4; ++x) samples.push_back(5.0 - (x - 1.3) * (x - 1.3));
  CHECK(extremes(samples, false).greatest == doctest::Approx(5.0).epsilon(1e-14));
  CHECK(extremes(samples, false).least == samples[3]);
}

TEST_CASE("a peak across the end of the period is refined only when the signal is periodic") {
  // Source: closed form, the top of a sine that lies half-way between the last and the first sample.
  const std::vector<double> samples = sine(16, std::numbers::pi / 2.0 + std::numbers::pi / 16.0);
  CHECK(extremes(samples, true).greatest > 0.999);
  CHECK(extremes(samples, false).greatest == doctest::Approx(samples.back()).epsilon(1e-14));
  CHECK(samples.back() < 0.981);
}

TEST_CASE("the torque of open teeth stays exactly zero beside a steep rise") {
  // Source: the contact law, whose torque is never negative on the drive flank.
  const std::vector<double> torque{0.0, 0.0, 0.0, 80.0, 100.0, 80.0};
  CHECK(extremes(torque, true).least == 0.0);
  CHECK(extremes(torque, true).greatest == 100.0);
  CHECK(extremes(std::vector<double>{3.0, 3.0, 3.0}, true).ripple() == 0.0);
}

TEST_CASE("one or two samples are their own extremes and none is an error") {
  CHECK(extremes(std::vector<double>{2.0}, true).greatest == 2.0);
  CHECK(extremes(std::vector<double>{2.0, -1.0}, false).least == -1.0);
  CHECK_THROWS_AS(extremes(std::vector<double>{}, true), std::invalid_argument);
}

TEST_CASE("a NaN anywhere makes the extremes NaN and never passes unseen") {
  for (const bool periodic : {false, true})
    for (const std::size_t place : {0U, 1U, 4U, 7U, 8U}) {
      std::vector<double> samples = sine(9, 0.1);
      samples[place] = std::numeric_limits<double>::quiet_NaN();
      CHECK(std::isnan(extremes(samples, periodic).least));
      CHECK(std::isnan(extremes(samples, periodic).greatest));
    }
}
