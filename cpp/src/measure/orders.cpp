#include "calmshaft/measure/orders.hpp"

#include <array>
#include <cmath>
#include <cstddef>
#include <map>
#include <mutex>
#include <numeric>
#include <stdexcept>
#include <string>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/measure/extremes.hpp"

namespace calmshaft {
namespace {

constexpr int block_size = 8;          // 8 cosine and 8 sine sums fill half of the SSE2 registers
constexpr int vibratory_order = 12;    // highest order of the synthesis
constexpr int synthesis_points = 720;  // a cycle: 30 for one swing of order 12, so peaks hold to 5e-5
constexpr int synthesis_quarter = synthesis_points / 4;

std::size_t index(int value) { return static_cast<std::size_t>(value); }

// Angle of harmonic m at point n of N, reduced to one turn first so that no accuracy is lost.
double harmonic_angle(int harmonic, int point, int points) {
  const long long step = static_cast<long long>(harmonic) * point % points;
  return two_pi * static_cast<double>(step) / points;
}

}  // namespace

OrderTable::OrderTable(int nodes_per_cycle, int revolutions_per_cycle, int highest_order)
    : nodes_(nodes_per_cycle),
      revolutions_(revolutions_per_cycle),
      highest_order_(highest_order),
      harmonics_(highest_order * revolutions_per_cycle),
      blocks_((harmonics_ + block_size - 1) / block_size) {
  if (revolutions_ != 1 && revolutions_ != 2)
    throw std::invalid_argument("orders: " + std::to_string(revolutions_) +
                                " revolutions a cycle; write 2 for a four-stroke, 1 for a two-stroke");
  if (highest_order_ < vibratory_order)
    throw std::invalid_argument("orders: highest order " + std::to_string(highest_order_) +
                                " leaves out part of the vibratory torque; write 12 or more");
  if (nodes_ <= 2 * harmonics_)
    throw std::invalid_argument("orders: " + std::to_string(nodes_) + " nodes a cycle cannot tell order " +
                                std::to_string(highest_order_) + " from lower ones; write more than " +
                                std::to_string(2 * harmonics_));
  fill_analysis();
  fill_synthesis();
}

void OrderTable::fill_analysis() {
  for (int block = 0; block < blocks_; ++block)
    for (int node = 0; node <= nodes_ / 2; ++node)
      for (const bool sine : {false, true})
        for (int k = 0; k < block_size; ++k) {
          const double angle = harmonic_angle(block * block_size + k + 1, node, nodes_);
          analysis_.push_back(sine ? std::sin(angle) : std::cos(angle));
        }
}

void OrderTable::fill_synthesis() {
  for (int harmonic = 1; harmonic <= vibratory_order * revolutions_; ++harmonic)
    for (int point = 0; point <= synthesis_quarter; ++point) {
      const double angle = harmonic_angle(harmonic, point, synthesis_points);
      synthesis_cosine_.push_back(std::cos(angle));
      synthesis_sine_.push_back(std::sin(angle));
    }
}

void OrderTable::check_length(std::span<const double> samples) const {
  if (samples.empty() || samples.size() % index(nodes_) != 0)
    throw std::invalid_argument("orders: " + std::to_string(samples.size()) + " samples; give whole cycles of " +
                                std::to_string(nodes_) + " nodes, the end of the last one not repeated");
}

std::vector<OrderTable::MirroredPair> OrderTable::fold(std::span<const double> samples) const {
  const std::size_t nodes = index(nodes_);
  std::vector<MirroredPair> pairs(nodes / 2 + 1, {0.0, 0.0});
  for (std::size_t start = 0; start < samples.size(); start += nodes) {
    const auto cycle = samples.subspan(start, nodes);
    pairs[0].sum += cycle[0];
    for (std::size_t n = 1; 2 * n < nodes; ++n) {
      pairs[n].sum += cycle[n] + cycle[nodes - n];
      pairs[n].difference += cycle[n] - cycle[nodes - n];
    }
    if (nodes % 2 == 0) pairs[nodes / 2].sum += cycle[nodes / 2];
  }
  return pairs;
}

std::vector<std::complex<double>> OrderTable::orders(std::span<const double> samples) const {
  check_length(samples);
  const auto pairs = fold(samples);
  const double scale = 2.0 / static_cast<double>(samples.size());
  std::vector<std::complex<double>> result(index(2 * highest_order_));
  const double* row = analysis_.data();
  for (int block = 0; block < blocks_; ++block) {
    std::array<double, block_size> cosine{};
    std::array<double, block_size> sine{};
    for (const MirroredPair& pair : pairs) {
      for (std::size_t k = 0; k < block_size; ++k) cosine[k] += pair.sum * row[k];
      for (std::size_t k = 0; k < block_size; ++k) sine[k] += pair.difference * row[block_size + k];
      row += 2 * block_size;
    }
    for (int k = 0; k < block_size; ++k) {
      const int harmonic = block * block_size + k + 1;
      if (harmonic > harmonics_) break;
      const int slot = harmonic * 2 / revolutions_ - 1;  // order = harmonic / revolutions
      result[index(slot)] = scale * std::complex<double>(cosine[index(k)], -sine[index(k)]);
    }
  }
  return result;
}

double OrderTable::vibratory(std::span<const double> samples) const {
  const auto amplitudes = orders(samples);
  return vibratory(std::span<const std::complex<double>>(amplitudes));
}

double OrderTable::vibratory(std::span<const std::complex<double>> orders) const {
  if (orders.size() < index(2 * vibratory_order))
    throw std::invalid_argument("vibratory: " + std::to_string(orders.size()) +
                                " orders; give at least 0.5, 1, ... 12");
  // cos m(pi - x) = (-1)^m cos m x and sin m(pi - x) = -(-1)^m sin m x: sums over a quarter of the cycle, odd and even
  // m apart, make up the whole of it.
  using Quarter = std::array<double, synthesis_quarter + 1>;
  std::array<Quarter, 2> cosines{}, sines{};
  const double* cosine = synthesis_cosine_.data();
  const double* sine = synthesis_sine_.data();
  for (int harmonic = 1; harmonic <= vibratory_order * revolutions_; ++harmonic) {
    const auto amplitude = orders[index(harmonic * 2 / revolutions_ - 1)];
    const double a = amplitude.real();
    const double b = -amplitude.imag();
    Quarter& even = cosines[index(harmonic % 2)];
    Quarter& odd = sines[index(harmonic % 2)];
    for (std::size_t n = 0; n <= synthesis_quarter; ++n) even[n] += a * cosine[n];
    for (std::size_t n = 0; n <= synthesis_quarter; ++n) odd[n] += b * sine[n];
    cosine += synthesis_quarter + 1;
    sine += synthesis_quarter + 1;
  }
  constexpr std::size_t half = synthesis_points / 2;
  std::array<double, synthesis_points + 1> wave;
  for (std::size_t n = 0; n <= synthesis_quarter; ++n) {
    wave[n] = (cosines[0][n] + cosines[1][n]) + (sines[0][n] + sines[1][n]);
    wave[half - n] = (cosines[0][n] - cosines[1][n]) - (sines[0][n] - sines[1][n]);
    wave[half + n] = (cosines[0][n] - cosines[1][n]) + (sines[0][n] - sines[1][n]);
    wave[synthesis_points - n] = (cosines[0][n] + cosines[1][n]) - (sines[0][n] + sines[1][n]);
  }
  return extremes(std::span(wave).first(synthesis_points), true).half_range();
}

const OrderTable& order_table(int nodes, int revolutions, int highest_order) {
  static std::mutex guard;
  static std::map<std::array<int, 3>, OrderTable> tables;
  const std::lock_guard lock(guard);
  return tables.try_emplace({nodes, revolutions, highest_order}, nodes, revolutions, highest_order).first->second;
}

double OrderTable::mean(std::span<const double> samples) const {
  check_length(samples);
  return std::accumulate(samples.begin(), samples.end(), 0.0) / static_cast<double>(samples.size());
}

}  // namespace calmshaft
