// The line of a manoeuvre: that of the condition, with every gear pair and clutch that the schedule needs.
#pragma once

#include <optional>
#include <string>

#include "calmshaft/model/clutch.hpp"
#include "calmshaft/simulate/crank_curve.hpp"
#include "calmshaft/simulate/governor.hpp"
#include "calmshaft/simulate/linear_start.hpp"

namespace calmshaft {

// A gear pair with a clutch in series. Its stations do not keep step while it slips, or at all where the other gear
// drives, so its whole twist holds a part of the crank angle: twist + drift * crank angle.
struct ClutchedPair {
  int mesh;       // number among the model's meshes
  double drift;   // [-] speed ratio of `from` less gear ratio times speed ratio of `to`
  bool releases;  // capacity by the schedule's `release`, else by its `engage`
};

struct ManoeuvreLine {
  // Throws LineError where condition or schedule do not fit the line, SolveError where the line is too long.
  ManoeuvreLine(const PreparedLine& line, const Condition& condition, const Schedule& schedule);

  ConditionModel start;  // the condition at the beginning
  ConditionModel drive;  // with the shaft of the gear to come where it begins in neutral, else the same
  Model model;           // of `drive`, with the pair of the gear to come
  std::vector<ClutchedPair> clutches;
  std::vector<std::string> stations, couplings;  // names; couplings as compiled: springs, dampers, meshes
  EngineTables tables;
  CrankCurve curve;
  MeanBalance balance;       // of `start`; with fixed fuelling that of the healthy engine
  double highest_frequency;  // [rad/s] contacts and stops closed

  // At crank angle 0, vibrating as the linear solution says; `still`: turning evenly instead.
  StartState start_state(double fuelling, bool still) const;
};

}  // namespace calmshaft
