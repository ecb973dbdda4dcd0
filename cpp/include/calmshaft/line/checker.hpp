// Collects the faults of one element; each rule is one call.
#pragma once

#include <numbers>
#include <string>
#include <utility>
#include <vector>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/core/errors.hpp"
#include "calmshaft/line/line.hpp"

namespace calmshaft {

// Faults show values in the units of the workshop, spelt as a line file takes them.
struct WorkshopUnit {
  double si;  // [SI unit] one of it
  const char* name;
};

namespace workshop {
inline constexpr double degree_in_si = std::numbers::pi / 180.0;
inline constexpr WorkshopUnit number{1.0, ""};
inline constexpr WorkshopUnit millimetre{1e-3, " mm"};
inline constexpr WorkshopUnit kilogram{1.0, " kg"};
inline constexpr WorkshopUnit inertia{1.0, " kg*m^2"};
inline constexpr WorkshopUnit torque{1.0, " N*m"};
inline constexpr WorkshopUnit degree{degree_in_si, " deg"};
inline constexpr WorkshopUnit spring{1.0 / degree_in_si, " N*m/deg"};
inline constexpr WorkshopUnit tooth{1.0, " N*m/rad"};
inline constexpr WorkshopUnit damping{1.0, " N*m*s/rad"};
inline constexpr WorkshopUnit speed{rpm, " rpm"};
inline constexpr WorkshopUnit crawl{1.0, " rad/s"};
inline constexpr WorkshopUnit pressure{1e5, " bar"};
}  // namespace workshop

// "92 mm", four digits.
std::string show(double value /* SI */, const WorkshopUnit& unit);

class Checker {
 public:
  Checker(std::vector<Fault>& faults, std::string element) : faults_(faults), element_(std::move(element)) {}

  // A part of this element, e.g. "stages[0]".
  Checker part(const std::string& name) const { return {faults_, path(name)}; }

  void fault(const std::string& key, const std::string& value, const std::string& rule,
             const std::string& advice);
  void warn(const std::string& key, const std::string& value, const std::string& rule,
            const std::string& advice);

  // Each answers whether the value may be used in further rules.
  bool positive(const std::string& key, double value, const WorkshopUnit& unit, const std::string& advice);
  bool not_negative(const std::string& key, double value, const WorkshopUnit& unit,
                    const std::string& advice);
  bool between(const std::string& key, double value, double above, double below, const WorkshopUnit& unit,
               const std::string& advice);                                      // both ends excluded
  bool share(const std::string& key, double value, const std::string& advice);  // above 0, at most 1

  // A warning where a value lies outside what such parts have; answers whether it lies inside.
  bool usual(const std::string& key, double value, double low, double high, const WorkshopUnit& unit,
             const std::string& advice);

 private:
  std::string path(const std::string& key) const { return element_.empty() ? key : element_ + "." + key; }
  bool finite(const std::string& key, double value, const WorkshopUnit& unit, const std::string& advice);

  std::vector<Fault>& faults_;
  std::string element_;
};

// One element each; `line` gives what the element is compared with.
void check_engine(const Engine& engine, Checker checker);
void check_combustion(const Engine& engine, Checker checker);
void check_plate(const Line& line, Checker checker);
void check_gearbox(const Line& line, Checker checker);
void check_shaft(const Line& line, Checker checker);
void check_propeller(const Line& line, Checker checker);
void check_table(const Line& line, Checker checker);

}  // namespace calmshaft
