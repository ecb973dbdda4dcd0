// "Did you mean": the known names nearest to a misspelt one.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace calmshaft {

// Fewest single-letter insertions, deletions, replacements and swaps of neighbours that turn a into b.
std::size_t edit_distance(std::string_view a, std::string_view b);

// The names in `known` that differ from `name` by at most a third of their letters, nearest first, at most
// `at_most`. Capitals and the choice between space, hyphen and underscore do not count as a difference.
std::vector<std::string> near_matches(std::string_view name, const std::vector<std::string>& known,
                                      std::size_t at_most = 3);

}  // namespace calmshaft
