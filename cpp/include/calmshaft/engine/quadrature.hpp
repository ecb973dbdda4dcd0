// Integrals of smooth functions between given corners.
#pragma once

#include <array>
#include <cstddef>

namespace calmshaft {

// Five-point Gauss-Legendre rule on equal panels. F: double -> any type with += and * double.
template <class Value, class F>
Value integrate(const F& f, double begin, double end, int panels) {
  constexpr std::array<double, 5> node = {-0.906179845938663993, -0.538469310105683091, 0.0,
                                          0.538469310105683091, 0.906179845938663993};
  constexpr std::array<double, 5> weight = {0.236926885056189088, 0.478628670499366468, 0.568888888888888889,
                                            0.478628670499366468, 0.236926885056189088};
  const double half = 0.5 * (end - begin) / panels;
  Value sum{};
  for (int panel = 0; panel < panels; ++panel) {
    const double middle = begin + (2 * panel + 1) * half;
    for (std::size_t k = 0; k < node.size(); ++k) sum += f(middle + half * node[k]) * (half * weight[k]);
  }
  return sum;
}

}  // namespace calmshaft
