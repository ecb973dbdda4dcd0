// Discs on shafts, one after the other, with rigid gears between shafts of different speed: a textbook's line.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/solve/linear_line.hpp"

namespace calmshaft {

// Joint i lies between stations i and i + 1. Lists that may be empty then mean 1 (speed ratios) or nothing.
struct Chain {
  std::vector<std::string> names;                  // of the stations
  std::vector<double> inertias;                    // [kg m^2] own shaft
  std::vector<std::optional<double>> stiffnesses;  // [N m/rad] one a joint; none at a gear pair, 0 where only damped
  std::vector<double> dampings;                    // [N m s/rad] one a joint, 0 at a gear pair; may be empty
  std::vector<double> speed_ratios;                // [-] own speed over the first station's; may be empty
  std::vector<double> ground_stiffnesses;          // [N m/rad] one a station; may be empty
  std::vector<double> ground_dampings;             // [N m s/rad] one a station; may be empty
  std::vector<int> fixed;                          // numbers of stations held still, from 0
};

// Every fault; none means that linear_line() and its modes can be had.
std::vector<Fault> check(const Chain& chain);

// Assumes a checked chain.
LinearLine linear_line(const Chain& chain);

}  // namespace calmshaft
