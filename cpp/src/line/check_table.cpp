// Rules of a mass-elastic table. The integration walks it outwards from the crank, so it must branch like a tree.
#include <cmath>
#include <numeric>
#include <set>
#include <string>

#include "calmshaft/line/checker.hpp"

namespace calmshaft {
namespace {

using namespace workshop;

constexpr double same_speed = 1e-9;  // of a speed ratio: rounding, not a gear

std::string row(const char* list, std::size_t index) { return std::string(list) + "[" + std::to_string(index) + "]"; }

// Groups of rows that hang together.
class Groups {
 public:
  explicit Groups(std::size_t rows) : leader_(rows) { std::iota(leader_.begin(), leader_.end(), 0); }
  int of(int row) const {
    while (leader_[static_cast<std::size_t>(row)] != row) row = leader_[static_cast<std::size_t>(row)];
    return row;
  }
  // False where both were in one group already.
  bool join(int a, int b) {
    const int one = of(a), other = of(b);
    leader_[static_cast<std::size_t>(other)] = one;
    return one != other;
  }

 private:
  std::vector<int> leader_;
};

bool merged(const MassElasticTable& table, int row) {
  for (const TableConnection& c : table.connections)
    if ((c.from == row || c.to == row) && std::isinf(c.stiffness)) return true;
  return false;
}

void check_masses(const MassElasticTable& table, Checker& checker) {
  std::set<std::string> names;
  std::set<PartStation> parts;
  for (std::size_t i = 0; i < table.masses.size(); ++i) {
    const TableMass& mass = table.masses[i];
    Checker here = checker.part(row("masses", i));
    if (!names.insert(mass.name).second)
      here.fault("name", mass.name, "stands twice", "give every mass a name of its own");
    if (mass.part != PartStation::none && !parts.insert(mass.part).second)
      here.fault("part", mass.name, "is a station of the line that another row is already",
                 "leave part out of one of the two");
    if (mass.speed_ratio == 0 || !std::isfinite(mass.speed_ratio))
      here.fault("shaft", mass.name, "must turn", "give its shaft's speed over the crank's, not zero");
    if (mass.part != PartStation::none && mass.part != PartStation::gearbox_output &&
        mass.part != PartStation::propeller && std::fabs(mass.speed_ratio - 1) > same_speed)
      here.fault("shaft", mass.name, "must turn with the crank",
                 "put flywheel and gearbox input on a shaft of speed ratio 1");
    const std::string advice = "join its two springs in series, or give the inertia of the flange";
    if (mass.part == PartStation::none && !(mass.inertia == 0 && merged(table, static_cast<int>(i))))
      here.positive("inertia", mass.inertia, workshop::inertia, advice);
  }
}

bool ends_exist(const MassElasticTable& table, const TableConnection& c) {
  const auto exists = [&](int end) { return end >= 0 && end < static_cast<int>(table.masses.size()); };
  return exists(c.from) && exists(c.to) && c.from != c.to;
}

void check_connection(const MassElasticTable& table, const TableConnection& c, Checker here) {
  if (!ends_exist(table, c)) {
    here.fault("to", std::to_string(c.to), "must name two different masses",
               "write the names as they stand in the masses");
    return;
  }
  const TableMass &from = table.masses[static_cast<std::size_t>(c.from)],
                  &to = table.masses[static_cast<std::size_t>(c.to)];
  if (!std::isinf(c.stiffness))
    here.positive("stiffness", c.stiffness, tooth, "write the maker's value, e.g. \"0.42e6 N*m/rad\"");
  here.not_negative("damping", c.damping, workshop::damping, "leave it out for none");
  if (!std::isinf(c.stiffness) &&
      std::fabs(from.speed_ratio - to.speed_ratio) > same_speed * std::fabs(from.speed_ratio))
    here.fault("stiffness", show(c.stiffness, tooth), "is a spring between shafts that turn at different speeds",
               "put the spring on one shaft, and join the shafts by a connection without stiffness (a gear pair)");
}

// What the parts of the line join beside the table.
void join_parts(const Line& line, Groups& groups) {
  const MassElasticTable& table = line.table;
  const auto join = [&](PartStation one, PartStation other) {
    const int a = table.row_of(one), b = table.row_of(other);
    if (a >= 0 && b >= 0) groups.join(a, b);
  };
  join(PartStation::crank, PartStation::gearbox_input);  // plate
  if (line.gearbox.ahead || line.gearbox.astern) {
    join(PartStation::gearbox_input, PartStation::gearbox_output);
    join(PartStation::crank, PartStation::gearbox_output);
  }
  if (line.shaft) join(PartStation::gearbox_output, PartStation::propeller);
}

void check_tree(const Line& line, Checker& checker) {
  const MassElasticTable& table = line.table;
  Groups groups(table.masses.size());
  for (std::size_t i = 0; i < table.connections.size(); ++i) {
    const TableConnection& c = table.connections[i];
    if (ends_exist(table, c) && !groups.join(c.from, c.to))
      checker.part(row("connections", i))
          .fault("to", table.masses[static_cast<std::size_t>(c.to)].name, "closes a ring",
                 "add parallel springs into one; a line branches, it does not come back");
  }
  join_parts(line, groups);
  int root = -1;  // any station of the line: the parts join them
  for (const PartStation part :
       {PartStation::crank, PartStation::gearbox_input, PartStation::gearbox_output, PartStation::propeller})
    if (root < 0) root = table.row_of(part);
  for (std::size_t i = 0; i < table.masses.size(); ++i)
    if (root < 0 || groups.of(static_cast<int>(i)) != groups.of(root))
      checker.part(row("masses", i))
          .fault("name", table.masses[i].name, "is joined to nothing that the engine turns",
                 "connect it, or say which station of the line a row is: part = \"flywheel\", \"gearbox input\", "
                 "\"gearbox output\" or \"propeller\"");
}

void check_doubles(const Line& line, Checker& checker) {
  const auto twice = [&](bool described, PartStation one, PartStation other, const char* part) {
    if (described && line.table.joins(one, other))
      checker.fault("connections", part, "stands in its own section and in the table", "leave out one of the two");
  };
  twice(!line.plate.drive.stages.empty(), PartStation::crank, PartStation::gearbox_input, "plate");
  twice(line.shaft.has_value(), PartStation::gearbox_output, PartStation::propeller, "shaft");
}

}  // namespace

void check_table(const Line& line, Checker checker) {
  if (line.table.masses.empty() && line.table.connections.empty()) return;
  check_masses(line.table, checker);
  for (std::size_t i = 0; i < line.table.connections.size(); ++i)
    check_connection(line.table, line.table.connections[i], checker.part(row("connections", i)));
  check_tree(line, checker);
  check_doubles(line, checker);
}

}  // namespace calmshaft
