// Orders of a signal over crank angle, and the vibratory part that they add up to.
//
//   x(th) = mean + sum over p of Re[c_p e^(i p th)],  c_p = a_p - i b_p
//         = mean + sum over p of (a_p cos p th + b_p sin p th)
//
// |c_p| is the amplitude of order p (events per crank turn), th = 0 at the first sample.
#pragma once

#include <complex>
#include <span>
#include <vector>

namespace calmshaft {

// Cosines and sines for one number of nodes a cycle; built once, then shared by any number of threads.
class OrderTable {
 public:
  // Throws std::invalid_argument unless nodes_per_cycle > 2 * revolutions_per_cycle * highest_order
  // (otherwise orders fold onto each other), revolutions_per_cycle is 1 or 2 and highest_order >= 12.
  OrderTable(int nodes_per_cycle, int revolutions_per_cycle, int highest_order = 24);

  // Complex amplitudes [unit of the signal]; index k is order (k + 1) / 2. Half orders of a
  // two-stroke (one revolution a cycle) are zero. `samples` are the nodes of one or more whole cycles,
  // the end not repeated; the orders are those of the average cycle.
  std::vector<std::complex<double>> orders(std::span<const double> samples) const;

  // Half range of the synthesis of orders 0.5 to 12 [unit of the signal], of samples or of their orders.
  double vibratory(std::span<const double> samples) const;
  double vibratory(std::span<const std::complex<double>> orders) const;

  // Mean over crank angle [unit of the signal].
  double mean(std::span<const double> samples) const;

 private:
  // Samples at equal angles before and after the start of the cycle: their sum meets only cosines,
  // their difference only sines. This halves the work.
  struct MirroredPair {
    double sum;         // [unit of the signal]
    double difference;  // [unit of the signal]
  };

  void check_length(std::span<const double> samples) const;
  std::vector<MirroredPair> fold(std::span<const double> samples) const;
  void fill_analysis();
  void fill_synthesis();

  int nodes_;
  int revolutions_;
  int highest_order_;
  int harmonics_;                         // of the cycle: highest order times revolutions
  int blocks_;                            // harmonics in blocks whose running sums stay in registers
  std::vector<double> analysis_;          // [block][node][cosines, sines of the block]
  std::vector<double> synthesis_cosine_;  // [harmonic][point], a quarter of a cycle
  std::vector<double> synthesis_sine_;
};

// One table for each kind of cycle, built when first asked for and then shared by all threads.
const OrderTable& order_table(int nodes_per_cycle, int revolutions_per_cycle, int highest_order);

}  // namespace calmshaft
