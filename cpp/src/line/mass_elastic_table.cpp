#include "calmshaft/line/mass_elastic_table.hpp"

#include <algorithm>

namespace calmshaft {

int MassElasticTable::row_of(PartStation part) const {
  const auto found = std::find_if(masses.begin(), masses.end(), [part](const TableMass& m) { return m.part == part; });
  return found == masses.end() ? -1 : static_cast<int>(found - masses.begin());
}

bool MassElasticTable::joins(PartStation one, PartStation other) const {
  const int start = row_of(one), goal = row_of(other);
  if (start < 0 || goal < 0) return false;
  std::vector<int> reached{start};
  const auto is_reached = [&](int row) { return std::find(reached.begin(), reached.end(), row) != reached.end(); };
  for (std::size_t next = 0; next < reached.size(); ++next)
    for (const TableConnection& c : connections)
      for (const auto& [here, there] : {std::pair{c.from, c.to}, std::pair{c.to, c.from}})
        if (here == reached[next] && !is_reached(there)) reached.push_back(there);
  return is_reached(goal);
}

}  // namespace calmshaft
