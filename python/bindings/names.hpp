// Names of stations and couplings as Python sees them.
#pragma once

#include <string>
#include <variant>
#include <vector>

#include "calmshaft/model/mass_elastic.hpp"

// The couplings in the order of the compiled model: springs, dampers, meshes. `read` takes any of the variant.
template <class Read>
std::vector<std::string> of_couplings(const calmshaft::MassElastic& system, const Read& read) {
  std::vector<std::string> found;
  for (const std::size_t kind : {0U, 1U, 2U})
    for (const calmshaft::Coupling& coupling : system.couplings)
      if (coupling.index() == kind) found.push_back(std::visit(read, coupling));
  return found;
}

inline std::vector<std::string> coupling_names(const calmshaft::MassElastic& system) {
  return of_couplings(system, [](const auto& one) { return one.name; });
}

inline std::vector<std::string> station_names(const calmshaft::MassElastic& system) {
  std::vector<std::string> names;
  for (const calmshaft::Station& station : system.stations) names.push_back(station.name);
  return names;
}
