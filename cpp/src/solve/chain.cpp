#include "calmshaft/solve/chain.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdio>

namespace calmshaft {
namespace {

std::string text(double value) {
  std::array<char, 32> digits{};
  std::snprintf(digits.data(), digits.size(), "%.6g", value);
  return digits.data();
}

// Faults of one chain, list by list. `joints` and `stations` are counted by the inertias.
class ChainCheck {
 public:
  explicit ChainCheck(const Chain& chain) : chain_(chain), stations_(chain.inertias.size()) {}

  std::vector<Fault> all() {
    if (stations_ == 0) {
      fault("inertias", "", "is empty", "write the inertia of every station [kg m^2]");
      return faults_;
    }
    check_names();
    check_ratios();
    check_numbers("inertias", chain_.inertias, " kg*m^2");
    if (count("stiffnesses", chain_.stiffnesses.size(), stations_ - 1)) check_joints();
    check_list("dampings", chain_.dampings, stations_ - 1, " N*m*s/rad");
    check_gear_damping();
    check_list("ground_stiffnesses", chain_.ground_stiffnesses, stations_, " N*m/rad");
    check_list("ground_dampings", chain_.ground_dampings, stations_, " N*m*s/rad");
    check_fixed();
    return faults_;
  }

 private:
  void fault(const std::string& path, const std::string& value, const std::string& rule, const std::string& advice) {
    faults_.push_back({path, value, rule, advice});
  }

  static std::string entry(const std::string& list, std::size_t i) { return list + "[" + std::to_string(i) + "]"; }

  bool count(const std::string& list, std::size_t found, std::size_t wanted) {
    if (found == wanted) return true;
    const bool by_joint = wanted != stations_;
    fault(list, std::to_string(found) + (found == 1 ? " entry" : " entries"),
          std::to_string(stations_) + (stations_ == 1 ? " inertia needs " : " inertias need ") + std::to_string(wanted),
          by_joint ? "write one for every joint between two stations" : "write one for every station");
    return false;
  }

  bool not_negative(const std::string& path, double value, const char* unit) {
    if (value >= 0.0 && std::isfinite(value)) return true;
    fault(path, text(value) + unit, "must be zero or more, and finite", "write a number of its unit");
    return false;
  }

  void check_numbers(const std::string& list, const std::vector<double>& values, const char* unit) {
    for (std::size_t i = 0; i < values.size(); ++i) not_negative(entry(list, i), values[i], unit);
  }

  void check_list(const std::string& list, const std::vector<double>& values, std::size_t wanted, const char* unit) {
    if (!values.empty() && count(list, values.size(), wanted)) check_numbers(list, values, unit);
  }

  void check_names() {
    if (!count("names", chain_.names.size(), stations_)) return;
    for (std::size_t i = 0; i < stations_; ++i) {
      const std::string& name = chain_.names[i];
      if (name.empty()) fault(entry("names", i), "\"\"", "must say something", "write a name");
      if (std::find(chain_.names.begin(), chain_.names.begin() + static_cast<std::ptrdiff_t>(i), name) !=
          chain_.names.begin() + static_cast<std::ptrdiff_t>(i))
        fault(entry("names", i), "\"" + name + "\"", "is the name of an earlier station", "give each its own");
    }
  }

  void check_ratios() {
    const std::vector<double>& ratios = chain_.speed_ratios;
    if (ratios.empty()) return;
    ratios_usable_ = count("speed_ratios", ratios.size(), stations_);
    if (!ratios_usable_) return;
    for (std::size_t i = 0; i < stations_; ++i) {
      if (ratios[i] != 0.0 && std::isfinite(ratios[i])) continue;
      ratios_usable_ = false;
      fault(entry("speed_ratios", i), text(ratios[i]), "must be finite and not zero",
            "write own speed over the first station's, negative where it turns backwards");
    }
    if (ratios_usable_ && ratios[0] != 1.0)
      fault("speed_ratios[0]", text(ratios[0]), "must be 1: speeds count from the first station",
            "divide all by " + text(ratios[0]));
  }

  double ratio(std::size_t i) const { return chain_.speed_ratios.empty() ? 1.0 : chain_.speed_ratios[i]; }
  bool is_gear(std::size_t joint) const { return ratio(joint) != ratio(joint + 1); }

  std::string ends(std::size_t joint) const {
    return "stations " + std::to_string(joint) + " and " + std::to_string(joint + 1);
  }

  void check_joints() {
    for (std::size_t i = 0; i + 1 < stations_; ++i) {
      const std::optional<double> stiffness = chain_.stiffnesses[i];
      if (ratios_usable_ && is_gear(i)) {
        if (stiffness)
          fault(entry("stiffnesses", i), text(*stiffness) + " N*m/rad",
                ends(i) + " turn at " + text(ratio(i)) + " and " + text(ratio(i + 1)) +
                    " times the first's speed, so rigid gears join them",
                "write None, or the same speed ratio for both");
      } else if (!stiffness) {
        if (ratios_usable_)
          fault(entry("stiffnesses", i), "None", ends(i) + " turn at one speed, so a spring joins them",
                "write its stiffness [N m/rad], or the speed ratio of a gear pair");
      } else if (!(*stiffness >= 0.0) || !std::isfinite(*stiffness)) {
        fault(entry("stiffnesses", i), text(*stiffness) + " N*m/rad", "must be more than zero, and finite",
              "write a number of its unit");
      } else if (*stiffness == 0.0 && !damped(i)) {
        fault(entry("stiffnesses", i), "0 N*m/rad", "joins nothing, as no damping is given there either",
              "write its stiffness, or two chains");
      }
    }
  }

  bool damped(std::size_t joint) const { return joint < chain_.dampings.size() && chain_.dampings[joint] > 0.0; }

  void check_gear_damping() {
    if (chain_.dampings.size() + 1 != stations_ || !ratios_usable_) return;
    for (std::size_t i = 0; i + 1 < stations_; ++i)
      if (is_gear(i) && chain_.dampings[i] > 0.0)
        fault(entry("dampings", i), text(chain_.dampings[i]) + " N*m*s/rad",
              "rigid gears do not twist, so nothing damps there", "write 0, or ground_dampings for drag");
  }

  // The first station of those that rigid gears join to this one.
  std::size_t leader(std::size_t station) const {
    while (station > 0 && is_gear(station - 1)) --station;
    return station;
  }

  void check_fixed() {
    std::vector<std::size_t> held;  // leaders
    for (std::size_t i = 0; i < chain_.fixed.size(); ++i) {
      const int station = chain_.fixed[i];
      if (station < 0 || static_cast<std::size_t>(station) >= stations_) {
        fault(entry("fixed", i), std::to_string(station), "there is no such station",
              "write numbers from 0 to " + std::to_string(stations_ - 1));
        continue;
      }
      if (!ratios_usable_) continue;
      const std::size_t first = leader(static_cast<std::size_t>(station));
      if (std::find(held.begin(), held.end(), first) != held.end())
        fault(entry("fixed", i), std::to_string(station), "is held already, by itself or through gears",
              "name one of them");
      else
        held.push_back(first);
    }
    if (!ratios_usable_) return;
    check_free(held);
    if (chain_.stiffnesses.size() + 1 == stations_) check_massless(held);
  }

  bool is_held(std::size_t station, const std::vector<std::size_t>& held) const {
    return std::find(held.begin(), held.end(), leader(station)) != held.end();
  }

  void check_free(const std::vector<std::size_t>& held) {
    bool any_free = false, any_mass = false;
    for (std::size_t i = 0; i < stations_; ++i) {
      if (is_held(i, held)) continue;
      any_free = true;
      any_mass = any_mass || chain_.inertias[i] != 0.0;  // a bad number is said elsewhere
    }
    if (!any_free) fault("fixed", "", "every station is held still", "leave one free");
    if (any_free && !any_mass)
      fault("inertias", "0 kg*m^2", "no free station has inertia, so nothing can swing",
            "give at least one of them its inertia");
    any_mass_ = any_mass;
  }

  // Stations that dampers alone join to the rest need an inertia, a ground spring or a hold of their own.
  void check_massless(const std::vector<std::size_t>& held) {
    std::size_t first = 0;
    bool kept = false;
    for (std::size_t i = 0; i < stations_; ++i) {
      const bool grounded = i < chain_.ground_stiffnesses.size() && chain_.ground_stiffnesses[i] != 0.0;
      kept = kept || chain_.inertias[i] != 0.0 || grounded || is_held(i, held);
      if (i + 1 < stations_ && chain_.stiffnesses[i] != 0.0) continue;  // a spring or a gear pair leads on
      if (!kept && any_mass_)
        fault(entry("inertias", first), "0 kg*m^2", "has no inertia and no spring holds it",
              "write its inertia, or the stiffness of a spring beside it");
      first = i + 1;
      kept = false;
    }
  }

  const Chain& chain_;
  std::size_t stations_;
  bool any_mass_ = true;
  bool ratios_usable_ = true;  // whether they tell which joints are gears
  std::vector<Fault> faults_;
};

}  // namespace

std::vector<Fault> check(const Chain& chain) { return ChainCheck(chain).all(); }

LinearLine linear_line(const Chain& chain) {
  const std::size_t stations = chain.inertias.size();
  LinearLine line(stations);
  line.inertia = chain.inertias;
  if (!chain.ground_stiffnesses.empty()) line.ground_stiffness = chain.ground_stiffnesses;
  if (!chain.ground_dampings.empty()) line.ground_damping = chain.ground_dampings;
  line.fixed = chain.fixed;
  for (std::size_t i = 0; i + 1 < stations; ++i) {
    const double ratio = chain.speed_ratios.empty() ? 1.0 : chain.speed_ratios[i] / chain.speed_ratios[i + 1];
    const double damping = chain.dampings.empty() ? 0.0 : chain.dampings[i];
    const std::optional<double> stiffness = chain.stiffnesses[i];
    const auto from = static_cast<int>(i);
    line.joints.push_back({from, from + 1, ratio, stiffness.value_or(0.0), damping, !stiffness});
  }
  return line;
}

}  // namespace calmshaft
