#include "calmshaft/line/checker.hpp"

#include <array>
#include <cmath>
#include <cstdio>

namespace calmshaft {

std::string show(double value, const WorkshopUnit& unit) {
  std::array<char, 32> digits{};
  const double shown = value / unit.si;
  const bool plain_whole = std::fabs(shown) >= 1e4 && std::fabs(shown) < 1e6 && shown == std::floor(shown);
  std::snprintf(digits.data(), digits.size(), plain_whole ? "%.0f" : "%.4g", shown);
  return std::string(digits.data()) + unit.name;
}

void Checker::fault(const std::string& key, const std::string& value, const std::string& rule,
                    const std::string& advice) {
  faults_.push_back({path(key), value, rule, advice, false});
}

void Checker::warn(const std::string& key, const std::string& value, const std::string& rule,
                   const std::string& advice) {
  faults_.push_back({path(key), value, rule, advice, true});
}

bool Checker::finite(const std::string& key, double value, const WorkshopUnit& unit,
                     const std::string& advice) {
  if (std::isfinite(value)) return true;
  fault(key, show(value, unit), "must be a finite number", advice);
  return false;
}

bool Checker::positive(const std::string& key, double value, const WorkshopUnit& unit,
                       const std::string& advice) {
  if (!finite(key, value, unit, advice)) return false;
  if (value > 0) return true;
  fault(key, show(value, unit), "must be more than zero", advice);
  return false;
}

bool Checker::not_negative(const std::string& key, double value, const WorkshopUnit& unit,
                           const std::string& advice) {
  if (!finite(key, value, unit, advice)) return false;
  if (value >= 0) return true;
  fault(key, show(value, unit), "must not be negative", advice);
  return false;
}

bool Checker::between(const std::string& key, double value, double above, double below,
                      const WorkshopUnit& unit, const std::string& advice) {
  if (!finite(key, value, unit, advice)) return false;
  if (value > above && value < below) return true;
  fault(key, show(value, unit), "must lie between " + show(above, unit) + " and " + show(below, unit),
        advice);
  return false;
}

bool Checker::share(const std::string& key, double value, const std::string& advice) {
  if (!finite(key, value, workshop::number, advice)) return false;
  if (value > 0 && value <= 1) return true;
  fault(key, show(value, workshop::number), "must be above 0 and at most 1", advice);
  return false;
}

bool Checker::usual(const std::string& key, double value, double low, double high, const WorkshopUnit& unit,
                    const std::string& advice) {
  if (value >= low && value <= high) return true;
  warn(key, show(value, unit), "such parts have " + show(low, unit) + " to " + show(high, unit), advice);
  return false;
}

}  // namespace calmshaft
