// The shapes that kernels are compiled for are those that lines have.
#include "calmshaft/simulate/driven_line.hpp"

#include <doctest/doctest.h>

#include "calmshaft/simulate/condition_model.hpp"
#include "sample_line.hpp"

using namespace calmshaft;

namespace {

Model launch_model(int pieces, Gear gear) {
  Line line = sample::launch();
  line.shaft->divisions = pieces;
  return ConditionModel(PreparedLine(line), sample::at_rpm(1500, gear)).model;
}

template <int pieces>
bool fits(Gear gear) {
  return have_same_joints(launch_model(pieces == 0 ? 1 : pieces, gear), DrivenLine<pieces, 1>{});
}

}  // namespace

TEST_CASE("the launch has a shape that is known when compiling, with its shaft in 1, 2, 4 or 8 pieces") {
  for (const Gear gear : {Gear::ahead, Gear::astern}) {
    CHECK(fits<1>(gear));
    CHECK(fits<2>(gear));
    CHECK(fits<4>(gear));
    CHECK(fits<8>(gear));
  }
  CHECK(fits<0>(Gear::neutral));
}

TEST_CASE("another line is not taken for it") {
  CHECK_FALSE(have_same_joints(launch_model(3, Gear::ahead), DrivenLine<4, 1>{}));
  CHECK_FALSE(have_same_joints(launch_model(1, Gear::ahead), DrivenLine<0, 1>{}));
}
