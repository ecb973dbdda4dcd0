#include "calmshaft/measure/orders.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <complex>
#include <numbers>
#include <random>
#include <stdexcept>
#include <vector>

#include "calmshaft/measure/extremes.hpp"

using namespace calmshaft;

namespace {

constexpr double pi = std::numbers::pi;
constexpr double rounding = 1e-12;  // sums of a few thousand products of order one

// mean + sum of Re[c_p e^(i p th)] at evenly spaced crank angles of one cycle.
std::vector<double> waveform(int nodes, int revolutions, double mean,
                             const std::vector<std::complex<double>>& orders) {
  std::vector<double> samples;
  for (int n = 0; n < nodes; ++n) {
    const double angle = 2.0 * pi * revolutions * n / nodes;
    double value = mean;
    for (std::size_t k = 0; k < orders.size(); ++k)
      value += (orders[k] * std::polar(1.0, 0.5 * static_cast<double>(k + 1) * angle)).real();
    samples.push_back(value);
  }
  return samples;
}

std::vector<std::complex<double>> random_orders(int revolutions) {
  std::mt19937 random(7);
  std::uniform_real_distribution<double> uniform(-1.0, 1.0);
  std::vector<std::complex<double>> orders(48);
  for (std::size_t k = 0; k < orders.size(); ++k)
    if (revolutions == 2 || k % 2 == 1) orders[k] = {uniform(random), uniform(random)};
  return orders;
}

}  // namespace

TEST_CASE("orders put together are found again, for even and odd numbers of nodes and both kinds of engine") {
  // Source: definition of the Fourier series.
  for (const int revolutions : {1, 2})
    for (const int nodes : {720, 721, 1008}) {
      const OrderTable table(nodes, revolutions);
      const auto expected = random_orders(revolutions);
      const auto samples = waveform(nodes, revolutions, 3.0, expected);
      const auto found = table.orders(samples);
      REQUIRE(found.size() == 48);
      for (std::size_t k = 0; k < 48; ++k) CHECK(std::abs(found[k] - expected[k]) < rounding);
      CHECK(std::fabs(table.mean(samples) - 3.0) < rounding);
    }
}

TEST_CASE("a cosine is a real order and a sine a negative imaginary one") {
  // Source: the convention c = a - i b.
  std::vector<double> samples;
  for (int n = 0; n < 720; ++n)
    samples.push_back(2.0 * std::cos(2.0 * pi * n / 360) + 5.0 * std::sin(pi * n / 360));
  const auto found = OrderTable(720, 2).orders(samples);
  CHECK(std::abs(found[0] - std::complex<double>(0.0, -5.0)) < rounding);  // order 0.5
  CHECK(std::abs(found[1] - 2.0) < rounding);                              // order 1
}

TEST_CASE("the mean square is the mean squared plus half the squares of the amplitudes") {
  // Source: Parseval's theorem.
  const auto samples = waveform(720, 2, -1.5, random_orders(2));
  double mean_square = 0.0;
  for (const double sample : samples) mean_square += sample * sample / 720.0;
  double from_orders = 1.5 * 1.5;
  for (const auto& order : OrderTable(720, 2).orders(samples)) from_orders += 0.5 * std::norm(order);
  CHECK(mean_square == doctest::Approx(from_orders).epsilon(rounding));
}

TEST_CASE("a rectangular pulse of 60 degrees in 720 has the amplitudes of the closed form") {
  // Source: closed form, (120/720) |sin(pi p / 6) / (pi p / 6)| and mean 1/12. 11520 nodes: sampling folds
  // higher orders in by under 1e-6 of the pulse height.
  constexpr int nodes = 11520;
  std::vector<double> pulse(nodes, 0.0);
  std::fill_n(pulse.begin(), nodes / 12, 1.0);
  const OrderTable table(nodes, 2);
  const auto found = table.orders(pulse);
  const double expected[] = {0.164769, 0.159155, 0.150053, 0.137832, 0.122985, 0.106103};  // orders 0.5 to 3
  for (std::size_t k = 0; k < 6; ++k) CHECK(std::fabs(std::abs(found[k]) - expected[k]) < 1e-6);
  CHECK(std::abs(found[11]) < 1e-6);  // order 6
  CHECK(table.mean(pulse) == doctest::Approx(1.0 / 12.0).epsilon(rounding));
}

TEST_CASE("five of six even pulses keep order three at five parts and bring the half orders of one pulse") {
  // Source: closed form of the sum of phasors: N - 1 at the major order, 1 elsewhere.
  constexpr int nodes = 11520;
  std::vector<double> pulses(nodes, 0.0);
  for (int fired = 0; fired < 5; ++fired) std::fill_n(pulses.begin() + fired * nodes / 6, nodes / 12, 1.0);
  const auto found = OrderTable(nodes, 2).orders(pulses);
  CHECK(std::fabs(std::abs(found[5]) - 5.0 * 0.106103) < 5e-6);
  CHECK(std::fabs(std::abs(found[0]) - 0.164769) < 1e-6);
}

TEST_CASE("several cycles give the orders of their average") {
  // Source: linearity of the Fourier sum.
  const OrderTable table(720, 2);
  auto expected = random_orders(2);
  auto samples = waveform(720, 2, 0.0, expected);
  const auto single = table.orders(samples);
  samples.resize(3 * 720, 0.0);  // two silent cycles
  const auto average = table.orders(samples);
  for (std::size_t k = 0; k < 48; ++k) CHECK(std::abs(average[k] - single[k] / 3.0) < rounding);
}

TEST_CASE("the vibratory part holds orders up to 12 and nothing above") {
  // Source: definition; the half range of A cos is A. The parabola on 30 points a swing misses under 5e-5.
  for (const int revolutions : {1, 2}) {
    const OrderTable table(2880, revolutions);
    std::vector<std::complex<double>> orders(48);
    orders[23] = std::polar(7.0, 0.3);  // order 12
    orders[25] = 4.0;                   // order 13
    CHECK(table.vibratory(waveform(2880, revolutions, 50.0, orders)) == doctest::Approx(7.0).epsilon(5e-5));
  }
}

TEST_CASE("the vibratory part of a mixture is the half range of its waveform") {
  // Source: second route, the waveform drawn directly from orders 0.5 to 12 on 16 times the points.
  auto orders = random_orders(2);
  orders.resize(24);
  const double directly = extremes(waveform(11520, 2, 0.0, orders), true).half_range();
  const OrderTable table(2880, 2);
  CHECK(table.vibratory(waveform(2880, 2, 1.0, orders)) == doctest::Approx(directly).epsilon(5e-5));
}

TEST_CASE("too few nodes, a part of a cycle and other strange requests are refused") {
  CHECK_THROWS_AS(OrderTable(96, 2), std::invalid_argument);
  CHECK_NOTHROW(OrderTable(97, 2));
  CHECK_THROWS_AS(OrderTable(720, 3), std::invalid_argument);
  CHECK_THROWS_AS(OrderTable(720, 2, 11), std::invalid_argument);
  const OrderTable table(720, 2);
  CHECK_THROWS_WITH_AS(table.orders(std::vector<double>(721, 0.0)), doctest::Contains("whole cycles of 720"),
                       std::invalid_argument);
  CHECK_THROWS_AS(table.mean(std::vector<double>{}), std::invalid_argument);
  CHECK_THROWS_AS(table.vibratory(std::vector<std::complex<double>>(10)), std::invalid_argument);
}
