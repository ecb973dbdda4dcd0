#include "calmshaft/simulate/excitation.hpp"

#include "calmshaft/core/constants.hpp"

namespace calmshaft {

std::vector<std::complex<double>> excitation(const EngineTables& tables, double fuelling, double speed,
                                             std::size_t stride) {
  std::vector<std::complex<double>> harmonics(highest_harmonic + 1);
  const std::size_t samples = tables.inertia.size() / stride;
  for (std::size_t j = 0; j < samples; ++j) {
    const std::size_t node = j * stride;
    const double torque = tables.base_torque[node] + fuelling * tables.fuelled_torque[node] -
                          0.5 * tables.inertia_slope[node] * speed * speed;
    const auto turn = std::polar(1.0, -two_pi * static_cast<double>(j) / static_cast<double>(samples));
    std::complex<double> phase = 2.0 * torque / static_cast<double>(samples);
    for (auto& harmonic : harmonics) {
      harmonic += phase;
      phase *= turn;
    }
  }
  return harmonics;
}

}  // namespace calmshaft
