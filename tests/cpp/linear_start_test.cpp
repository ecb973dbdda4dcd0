// The state to march from, against sums by hand and a plain integral over the crank's tables.
#include "calmshaft/simulate/linear_start.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "calmshaft/core/number.hpp"
#include "calmshaft/simulate/steady.hpp"
#include "linear_fixtures.hpp"
#include "sample_line.hpp"

using namespace calmshaft;
using fixtures::relative_error;
using sample::at_rpm;

namespace {

constexpr int steps = 1440;

const PreparedLine& launch() {
  static const PreparedLine line(sample::launch());
  return line;
}

struct Start {
  explicit Start(const Condition& at, const PreparedLine& line = launch())
      : point(line, at),
        tables(point.tables(2 * steps)),
        fuelling(balanced_fuelling(point, tables)),
        found(linear_start(point, tables, fuelling)) {}
  ConditionModel point;
  EngineTables tables;
  double fuelling;
  StartState found;
};

}  // namespace

TEST_CASE("full throttle at rated speed takes the fuelling of the rating") {
  // the propeller absorbs the rated torque at rated speed, and factor 1 is defined to give it; 1e-6: table's mean
  CHECK(relative_error(Start(at_rpm(2600)).fuelling, 1.0) < 1e-6);
}

TEST_CASE("the fuelling to start with balances gas, friction and loads") {
  const Start start(at_rpm(1400));
  const double gas = mean_of(start.tables.base_torque) + start.fuelling * mean_of(start.tables.fuelled_torque);
  CHECK(relative_error(gas, start.point.mean.resistance) < 1e-12);
}

TEST_CASE("an engine of which no cylinder fires has no fuelling that balances") {
  const ConditionModel point(launch(), at_rpm(1400));
  CHECK(std::isnan(balanced_fuelling(point, launch().cycles().tables({0, 0, 0, 0}, 2 * steps))));
}

TEST_CASE("every shaft starts near its own mean speed, backwards where it turns backwards") {
  for (const Gear gear : {Gear::ahead, Gear::astern, Gear::neutral}) {
    const Start start(at_rpm(2000, gear));
    const Model& model = start.point.model;
    for (int i = 0; i < model.stations; ++i) {
      const double mean = model.speed_ratio[i] * 2000 * rpm;
      CHECK(relative_error(start.found.state[static_cast<std::size_t>(model.stations + i)], mean) < 0.05);
    }
  }
}

TEST_CASE("dry friction starts sliding with the twist's own direction") {
  const Start start(at_rpm(1000));
  const Model& model = start.point.model;
  const double* speed = start.found.state.data() + model.stations;
  const double turning = speed[0] - speed[1];
  CHECK(start.found.friction[0].slider_twist == std::copysign(model.damper[0].presliding_angle, turning));
  CHECK(start.found.friction[0].coupling_twist == -start.found.state[1]);
}

TEST_CASE("the clock and the work start at nothing") {
  const Start start(at_rpm(1000));
  CHECK(start.found.state[0] == 0.0);
  for (int i = start.point.model.gas_work_slot(); i < start.point.model.state_size(); ++i)
    CHECK(start.found.state[static_cast<std::size_t>(i)] == 0.0);
}

TEST_CASE("a lone crank starts at the speed that its torque's integral gives") {
  // One station: J w dw/dth = T - mean T, T gas and -1/2 J' w^2, summed over the cycle and freed of its mean. The start
  // leaves out orders above 24 and lets friction damp a little: 2 % of the swing.
  Line line = sample::launch();
  line.plate.rigid = true;
  line.gearbox.unloaded.clear();
  const PreparedLine prepared(line);
  const Start start(at_rpm(1000, Gear::neutral), prepared);
  REQUIRE(start.point.model.stations == 1);
  const EngineTables& tables = start.tables;
  const double speed = 1000 * rpm, inertia = start.point.mean_crank_inertia;
  const double mean = mean_of(tables.base_torque) + start.fuelling * mean_of(tables.fuelled_torque);
  const auto nodes = static_cast<std::size_t>(tables.nodes);
  const double step = tables.cycle / tables.nodes;
  std::vector<double> swing(nodes, 0.0);
  for (std::size_t i = 1; i < nodes; ++i) {
    const auto rate = [&](std::size_t k) {
      const double torque = tables.base_torque[k] + start.fuelling * tables.fuelled_torque[k] - mean;
      return (torque - 0.5 * tables.inertia_slope[k] * speed * speed) / (inertia * speed);
    };
    swing[i] = swing[i - 1] + 0.5 * step * (rate(i - 1) + rate(i));
  }
  const double expected = swing[0] - mean_of(swing);
  CHECK(std::fabs(expected) > 0.1);
  CHECK(relative_error(start.found.state[1] - speed, expected) < 0.02);
}

TEST_CASE("a quiet line starts so near its orbit that the fewest cycles confirm it") {
  const SteadyResult found = steady(launch(), at_rpm(2600));
  REQUIRE(found.status == Status::periodic);
  CHECK(found.cycles <= 12);  // eight of them are the window that must agree
}
