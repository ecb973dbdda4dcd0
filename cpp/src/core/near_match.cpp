#include "calmshaft/core/near_match.hpp"

#include <algorithm>
#include <utility>

namespace calmshaft {
namespace {

std::string without_style(std::string_view name) {
  std::string plain(name);
  for (char& letter : plain) {
    if (letter >= 'A' && letter <= 'Z') letter = static_cast<char>(letter - 'A' + 'a');
    if (letter == ' ' || letter == '-') letter = '_';
  }
  return plain;
}

}  // namespace

// Row by row: row[j] = distance between the first i letters of a and the first j of b. Swaps look two rows
// back.
std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::size_t> before_last(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
  for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    std::swap(before_last, last);
    std::swap(last, row);
    row[0] = i;
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
      row[j] = std::min({last[j] + 1, row[j - 1] + 1, replaced});
      const bool swapped = i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1];
      if (swapped) row[j] = std::min(row[j], before_last[j - 2] + 1);
    }
  }
  return row[b.size()];
}

std::vector<std::string> near_matches(std::string_view name, const std::vector<std::string>& known,
                                      std::size_t at_most) {
  const std::string asked = without_style(name);
  std::vector<std::pair<std::size_t, std::string>> near;
  for (const std::string& candidate : known) {
    const std::size_t distance = edit_distance(asked, without_style(candidate));
    if (3 * distance <= std::max(asked.size(), candidate.size())) near.emplace_back(distance, candidate);
  }
  std::sort(near.begin(), near.end());
  std::vector<std::string> names;
  for (std::size_t i = 0; i < std::min(at_most, near.size()); ++i) names.push_back(std::move(near[i].second));
  return names;
}

}  // namespace calmshaft
