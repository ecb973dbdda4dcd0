// The engine as the solver sees it: inertia and gas torque of the whole crank at equally spaced crank angles.
#pragma once

#include <memory>
#include <vector>

#include "calmshaft/engine/cylinder_cycle.hpp"
#include "calmshaft/line/elements.hpp"

namespace calmshaft {

// Node j lies at crank angle j * cycle / nodes. Gas torque = base_torque + factor * fuelled_torque.
struct EngineTables {
  int nodes = 0;
  double cycle = 0;                    // [rad] 4 pi or 2 pi
  std::vector<double> inertia;         // [kg m^2] crank and all pistons and rods, no flywheel
  std::vector<double> inertia_slope;   // [kg m^2/rad]
  std::vector<double> base_torque;     // [N m] independent of fuelling
  std::vector<double> fuelled_torque;  // [N m] at fuelling factor 1
};

// One engine, ready for any strengths and number of nodes. Safe to share between threads; copies share their
// samples. At factor 1 and all strengths 1 the mean gas torque is rated torque plus friction at rated speed.
// Diesel: the factor scales the heat. Petrol: it scales the whole fresh charge, inlet pressure and heat, so
// that a throttled engine pumps.
class EngineCycles {
 public:
  explicit EngineCycles(const Engine& engine);  // LineError where no fuelling can give the rated torque

  // strengths [-] of the heat by cylinder number, empty: all 1; LineError where they do not fit the engine.
  EngineTables tables(const std::vector<double>& strengths, int nodes) const;

  const CylinderCycle& cylinder() const { return cylinder_; }
  double rated_heat() const { return rated_heat_; }  // [J] of one cylinder and cycle at factor 1

 private:
  struct Samples;
  struct Cache;
  std::shared_ptr<const Samples> samples(int nodes) const;
  Samples sample(int nodes) const;
  void check(const std::vector<double>& strengths, int nodes) const;

  Engine engine_;
  CylinderCycle cylinder_;
  double rated_heat_;
  std::shared_ptr<Cache> cache_;
};

// Inertia of all pistons and rods at the crank, averaged over a turn [kg m^2].
double mean_moving_inertia(const Engine& engine);

EngineTables engine_tables(const Engine& engine, const std::vector<double>& strengths, int nodes);

}  // namespace calmshaft
