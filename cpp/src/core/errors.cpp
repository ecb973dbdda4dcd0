#include "calmshaft/core/errors.hpp"

#include <utility>

namespace calmshaft {
namespace {

std::string describe_all(const std::vector<Fault>& faults) {
  std::string text;
  for (const Fault& fault : faults) {
    if (!text.empty()) text += '\n';
    text += describe(fault);
  }
  return text;
}

}  // namespace

LineError::LineError(std::vector<Fault> faults)
    : std::invalid_argument(describe_all(faults)), faults_(std::move(faults)) {}

std::string describe(const Fault& fault) {
  std::string text = fault.warning ? "warning: " : "";
  text += fault.path + ": ";
  if (!fault.value.empty()) text += "is " + fault.value + ", ";
  text += fault.rule;
  if (!fault.advice.empty()) text += "; " + fault.advice;
  return text;
}

}  // namespace calmshaft
