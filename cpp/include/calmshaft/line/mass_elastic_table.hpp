// Rows of a maker's mass-elastic table, beside the parts of a line or in place of some of them.
#pragma once

#include <string>
#include <vector>

namespace calmshaft {

// The stations that the parts of a line have in common with a table.
enum class PartStation { none, crank, gearbox_input, gearbox_output, propeller };

struct TableMass {
  std::string name;
  PartStation part = PartStation::none;  // which station of the line this row is; its inertia then stands in the part
  double inertia = 0;                    // [kg m^2] on its own shaft
  double speed_ratio = 1;                // [-] own speed over the crank's, going ahead
};

struct TableConnection {
  int from = 0;          // row of the table
  int to = 0;            // row of the table
  double stiffness = 0;  // [N m/rad]; infinite: a gear pair, or a flange, that neither bends nor opens
  double damping = 0;    // [N m s/rad]
};

struct MassElasticTable {
  std::vector<TableMass> masses;
  std::vector<TableConnection> connections;

  // The row that is a station of the line; -1 where none is.
  int row_of(PartStation part) const;
  // True where the connections alone lead from one station of the line to another.
  bool joins(PartStation one, PartStation other) const;
};

}  // namespace calmshaft
