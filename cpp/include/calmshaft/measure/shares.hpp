// Shares of time that a gear pair spends on its drive flank, on none, and on its coast flank.
#pragma once

#include <span>

namespace calmshaft {

struct ContactShares {
  double drive;      // [-] twist beyond +half_backlash
  double separated;  // [-] between the flanks
  double coast;      // [-] twist beyond -half_backlash
};

// `twist` [rad] and `time` [s] at the nodes from the start to the end of the period, both included;
// `half_backlash` [rad]. Between nodes the twist is taken as straight. The shares add up to 1.
// Throws std::invalid_argument when sizes differ, there is no interval, or time does not go forward.
ContactShares contact_shares(std::span<const double> twist, std::span<const double> time,
                             double half_backlash);

}  // namespace calmshaft
