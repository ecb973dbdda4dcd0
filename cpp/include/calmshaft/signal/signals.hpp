// Columns of numbers over the same nodes: what a run leaves and what the measures read.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace calmshaft {

struct Column {
  std::string name;            // e.g. "mesh_torque"
  std::string unit;            // of the values, e.g. "N m"
  std::string station;         // where it was taken; empty for time and crank angle
  std::vector<double> values;  // [unit]
};

struct Signals {
  std::vector<Column> columns;

  // The first column of that name. Throws std::out_of_range, with the nearest names.
  const Column& operator[](std::string_view name) const;
};

}  // namespace calmshaft
