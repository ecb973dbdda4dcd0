// Expected distances are counted by hand on the words shown.
#include "calmshaft/core/near_match.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using calmshaft::edit_distance;
using calmshaft::near_matches;

namespace {

const std::vector<std::string> keys{"stiffness", "stop_angle",  "stop_stiffness",
                                    "free_play", "hub_inertia", "stages"};

}  // namespace

TEST_CASE("distance counts insertions, deletions, replacements and swaps of neighbours as one each") {
  CHECK(edit_distance("plate", "plate") == 0);
  CHECK(edit_distance("plate", "plat") == 1);
  CHECK(edit_distance("plate", "platee") == 1);
  CHECK(edit_distance("plate", "plane") == 1);
  CHECK(edit_distance("plate", "palte") == 1);
  CHECK(edit_distance("", "shaft") == 5);
  CHECK(edit_distance("shaft", "") == 5);
}

TEST_CASE("distance is the same both ways round") {
  CHECK(edit_distance("backlash", "hysteresis") == edit_distance("hysteresis", "backlash"));
}

TEST_CASE("a misspelt key finds the one that was meant first") {
  CHECK(near_matches("stifness", keys).at(0) == "stiffness");
  CHECK(near_matches("stpo_angle", keys).at(0) == "stop_angle");
}

TEST_CASE("capitals, hyphens and spaces are no difference") {
  CHECK(near_matches("Free-Play", keys) == std::vector<std::string>{"free_play"});
  CHECK(near_matches("hub inertia", keys) == std::vector<std::string>{"hub_inertia"});
}

TEST_CASE("a name that resembles nothing gets no suggestion") {
  CHECK(near_matches("zebra", keys).empty());
  CHECK(near_matches("", keys).empty());
}

TEST_CASE("no more names come back than were asked for") {
  const std::vector<std::string> alike{"stage1", "stage2", "stage3"};
  CHECK(near_matches("stage4", alike, 2) == std::vector<std::string>{"stage1", "stage2"});
}
