// The compiled model: limits, layout of the state, copies. Our own contract, no source needed.
#include "calmshaft/model/model.hpp"

#include <doctest/doctest.h>

#include <limits>
#include <set>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/model/assemble.hpp"
#include "sample_line.hpp"

using namespace calmshaft;

namespace {

constexpr double never = std::numeric_limits<double>::infinity();

MassElastic chain(int stations) {
  MassElastic system;
  for (int i = 0; i < stations; ++i) system.stations.push_back({"station", 0.1 * (i + 1), 1.0});
  for (int i = 1; i < stations; ++i) system.couplings.emplace_back(LinearSpring{"spring", i - 1, i, 1000.0, 1.0});
  return system;
}

StagedDamper damper(int corners) {
  StagedDamper made{"plate", 0, 1, {}, 0.0, 1.0, 1e-3, never, never, {0.0, 0.0}};
  for (int i = 0; i < corners; ++i) made.ramps.push_back({1.0, 0.01 * i, 10.0});
  return made;
}

Model launch(Gear gear) { return compile(assemble(sample::launch(), sample::at_rpm(1500, gear)), {2.0, 0.01, 1e-5}); }

}  // namespace

TEST_CASE("twelve stations compile and a thirteenth is refused") {
  CHECK(compile(chain(most_stations), {}).stations == most_stations);
  CHECK_THROWS_AS(compile(chain(most_stations + 1), {}), SolveError);
}

TEST_CASE("a second spring damper is refused") {
  MassElastic system = chain(3);
  system.couplings = {damper(2)};
  CHECK(compile(system, {}).dampers == 1);
  system.couplings.emplace_back(damper(2));
  CHECK_THROWS_AS(compile(system, {}), SolveError);
}

TEST_CASE("more corners of plate stages than fit are refused, not cut off") {
  MassElastic system = chain(2);
  system.couplings = {damper(most_ramps)};
  CHECK(compile(system, {}).damper[0].ramps == most_ramps);
  system.couplings = {damper(most_ramps + 1)};
  CHECK_THROWS_AS(compile(system, {}), SolveError);
}

TEST_CASE("a third propeller is refused") {
  MassElastic system = chain(2);
  for (int i = 0; i < most_square_loads; ++i) system.loads.emplace_back(SquareLoad{"propeller", 1, 0.01, 0.5});
  CHECK(compile(system, {}).square_loads == most_square_loads);
  system.loads.emplace_back(SquareLoad{"propeller", 1, 0.01, 0.5});
  CHECK_THROWS_AS(compile(system, {}), SolveError);
}

TEST_CASE("the dry friction's slider carries the friction torque at its presliding angle") {
  MassElastic system = chain(2);
  system.couplings = {damper(1)};
  const Model model = compile(system, {});
  CHECK(model.damper[0].slider_stiffness * model.damper[0].presliding_angle == doctest::Approx(1.0).epsilon(1e-15));
}

TEST_CASE("the slots of the state follow one another without gap or overlap") {
  const Model model = launch(Gear::ahead);
  std::set<int> slots;
  for (int i = 0; i < 2 * model.stations; ++i) slots.insert(i);
  slots.insert(model.gas_work_slot());
  slots.insert(model.engine_friction_slot());
  for (int i = 0; i < model.couplings(); ++i) slots.insert(model.coupling_work_slot(i));
  for (int i = 0; i < model.dampers; ++i) slots.insert(model.dry_friction_slot(i));
  for (int i = 0; i < model.loads(); ++i) slots.insert(model.load_work_slot(i));
  for (int i = 0; i < model.meshes; ++i) slots.insert(model.turning_slot(i));
  const int named = 2 * model.stations + 2 + model.couplings() + model.dampers + model.loads() + model.meshes;
  CHECK(static_cast<int>(slots.size()) == named);
  CHECK(*slots.rbegin() == model.state_size() - 1);
  CHECK(model.state_size() == named);
  CHECK(model.state_size() <= most_state);
}

TEST_CASE("lines that differ in values share a shape, lines that differ in parts or gear do not") {
  Line stiffer = sample::launch();
  stiffer.shaft->stiffness *= 2.0;
  const Model other = compile(assemble(stiffer, sample::at_rpm(900)), {});
  CHECK(same_shape(launch(Gear::ahead), other));
  CHECK(same_shape(launch(Gear::ahead), launch(Gear::astern)));
  CHECK_FALSE(same_shape(launch(Gear::ahead), launch(Gear::neutral)));
  Line one_stage = sample::launch();
  one_stage.plate.coast.stages.pop_back();
  CHECK_FALSE(same_shape(launch(Gear::ahead), compile(assemble(one_stage, sample::at_rpm(900)), {})));
}

TEST_CASE("a model is copied value by value through its shape") {
  const Model from = launch(Gear::astern);
  Model to{};
  copy_shape(from, to);
  int visited = 0, unequal = 0;
  const auto copy = [&](double a, double& b) { b = a, ++visited; };
  for_each_value(from, to, copy);
  CHECK(same_shape(from, to));
  for_each_value(from, to, [&](double a, double b) { unequal += a != b; });
  CHECK(unequal == 0);
  // 3 a station; 2 a spring; 2 a ramp and 7 more a damper; 4 a mesh; 2 a propeller; 1 a drag; engine friction 3
  CHECK(visited == 3 * from.stations + 2 * from.springs + 2 * from.damper[0].ramps + 7 * from.dampers +
                       4 * from.meshes + 2 * from.square_loads + from.drags + 3);
}
