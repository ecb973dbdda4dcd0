#include "calmshaft/simulate/excitation.hpp"

#include "calmshaft/measure/orders.hpp"

namespace calmshaft {

std::vector<std::complex<double>> excitation(const EngineTables& tables, double fuelling, double speed, int samples) {
  const std::size_t count = static_cast<std::size_t>(samples), stride = tables.inertia.size() / count;
  std::vector<double> torque(count);
  for (std::size_t j = 0; j < count; ++j) {
    const std::size_t node = j * stride;
    torque[j] = tables.base_torque[node] + fuelling * tables.fuelled_torque[node] -
                0.5 * tables.inertia_slope[node] * speed * speed;
  }
  // Two revolutions whatever the engine: slot k of the orders is then harmonic k + 1 of its cycle.
  const OrderTable& table = order_table(samples, 2, highest_harmonic / 2);
  std::vector<std::complex<double>> harmonics = table.orders(torque);
  harmonics.insert(harmonics.begin(), 2.0 * table.mean(torque));
  return harmonics;
}

}  // namespace calmshaft
