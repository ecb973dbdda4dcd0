// The check that every measure over time shares.
#pragma once

#include <span>
#include <string>

namespace calmshaft {

// Throws std::invalid_argument unless there are at least two nodes, one time for each value, and time
// goes forward. `measure` names the measure in the message.
void check_node_times(const std::string& measure, std::span<const double> values,
                      std::span<const double> time);

}  // namespace calmshaft
