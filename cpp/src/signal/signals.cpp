#include "calmshaft/signal/signals.hpp"

#include <algorithm>
#include <stdexcept>

#include "calmshaft/core/near_match.hpp"

namespace calmshaft {
namespace {

// The nearest names, or all of them where none is near.
std::string advice(std::string_view name, const std::vector<Column>& columns) {
  if (columns.empty()) return "there are no columns";
  std::vector<std::string> known;
  for (const Column& column : columns) known.push_back(column.name);
  const auto near = near_matches(name, known);
  std::string text = "write ";
  for (const std::string& match : near.empty() ? known : near)
    text += (text == "write " ? "" : " or ") + match;
  return text;
}

}  // namespace

const Column& Signals::operator[](std::string_view name) const {
  const auto found = std::find_if(columns.begin(), columns.end(),
                                  [name](const Column& column) { return column.name == name; });
  if (found == columns.end())
    throw std::out_of_range("signals: no column is named \"" + std::string(name) + "\"; " +
                            advice(name, columns));
  return *found;
}

}  // namespace calmshaft
