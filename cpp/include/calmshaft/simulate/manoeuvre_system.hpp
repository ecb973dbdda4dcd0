// The equations of motion in time form, with what a schedule does to them: speed asked, fuel, load, clutches.
#pragma once

#include "calmshaft/model/energy.hpp"
#include "calmshaft/simulate/manoeuvre_line.hpp"
#include "calmshaft/solve/system.hpp"

namespace calmshaft {

class ManoeuvreSystem final : public System {
 public:
  ManoeuvreSystem(const ManoeuvreLine& line, const Schedule& schedule, const Governor& governor);

  // State: that of the model, then
  //   governor [-] | its integral [s] | propeller's slow speed [rad/s] | starter's work [J] | heat of each clutch [J]
  int size() const override { return clutch_heat_slot(0) + static_cast<int>(line_.clutches.size()); }
  int governor_slot() const { return model_.state_size(); }
  int propeller_slot() const { return governor_slot() + 2; }
  int starter_slot() const { return governor_slot() + 3; }
  int clutch_heat_slot(int clutch) const { return governor_slot() + 4 + clutch; }

  void derivative(double at, const double* state, double* rate) override;
  void after_step(double at, const double* state) override;

  // The whole state to begin from at `time` [s]; memories are set to it.
  std::vector<double> start(double time);
  // The stretch of the schedule that comes next; no track changes its slope inside.
  void enter(double from, double to);
  // Error of a step by slot that changes no torque by more than `torque` [N m].
  std::vector<double> tolerances(double torque) const;

  const Model& model() const { return model_; }
  const Workspace<double>& work() const {
    return work_;
  }                                               // of the last derivative; a clutched pair's twist is its teeth's
  double fuelling() const { return delivered_; }  // [-] of the cylinders that fire now
  double asked_speed(double at) const { return speed_.at(at); }  // [rad/s]
  bool fuel_on(double at) const { return fuel_.at(at) > 0.5; }
  bool starter_on(double at) const { return starter_.at(at) > 0.5; }
  const std::vector<double>& firings() const { return firings_; }  // [s] times at which a cylinder fired
  std::size_t firings_per_cycle() const { return firing_angles_.size(); }
  double kinetic(const double* state) const;              // [J]
  double coupling(int index, const double* state) const;  // [J] elastic energy
  double slip_ended(int clutch) const {
    return slip_ended_[static_cast<std::size_t>(clutch)];
  }  // [s] NaN: never slipped
  bool slips(int clutch) const { return slips_[static_cast<std::size_t>(clutch)]; }

 private:
  double mesh_torque(int mesh, const double* state, Workspace<double>& work, double at, double* rate) const;
  double whole_twist(const ClutchedPair& pair, const double* state) const;
  double capacity(const ClutchedPair& pair, double at) const { return (pair.releases ? release_ : engage_).at(at); }
  double starter_torque(double at, double crank_speed) const;
  void set_load(double at, const double* state);
  void take_firings(double at, const double* state);

  const ManoeuvreLine& line_;
  const Schedule& schedule_;
  Governor governor_;
  Model model_;                          // its propeller's coefficient follows the schedule
  double rated_speed_, cranking_speed_;  // [rad/s]
  TrackPiece speed_, load_, fuel_, starter_, fault_, release_, engage_;
  Workspace<double> work_{};
  std::array<ClutchMemory, 2> clutch_{};
  std::array<double, 2> slip_ended_;  // [s]
  std::array<bool, 2> slips_{};
  std::vector<double> firing_angles_;                           // [rad] rising, within one cycle
  std::size_t next_ = 0;                                        // firing angle that comes next
  double turned_ = 0;                                           // [rad] whole cycles before it
  double delivered_ = 0;                                        // [-]
  double time_before_ = 0, angle_before_ = 0, sum_before_ = 0;  // [s], [rad], [s] at the last step's end
  double fired_at_ = 0, sum_at_firing_ = 0;                     // [s], [s]
  std::vector<double> firings_;                                 // [s]
};

}  // namespace calmshaft
