#include "calmshaft/measure/node_times.hpp"

#include <cstddef>
#include <stdexcept>

namespace calmshaft {

void check_node_times(const std::string& measure, std::span<const double> values,
                      std::span<const double> time) {
  if (values.size() != time.size() || values.size() < 2)
    throw std::invalid_argument(measure + ": " + std::to_string(values.size()) + " values at " +
                                std::to_string(time.size()) +
                                " times; give one time for each value, two or more");
  for (std::size_t i = 1; i < time.size(); ++i)
    if (!(time[i] > time[i - 1]))
      throw std::invalid_argument(measure + ": time goes from " + std::to_string(time[i - 1]) + " s to " +
                                  std::to_string(time[i]) + " s at node " + std::to_string(i) +
                                  "; give times that increase");
}

}  // namespace calmshaft
