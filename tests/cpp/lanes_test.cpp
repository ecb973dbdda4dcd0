// Eight points side by side: three instruction sets, refilled lanes. Our own contract: the same bits.
#include "calmshaft/simulate/lanes.hpp"

#include <doctest/doctest.h>

#include <cstring>
#include <memory>
#include <set>

#include "calmshaft/simulate/cycle_job.hpp"
#include "calmshaft/simulate/cycle_measures.hpp"
#include "calmshaft/simulate/linear_start.hpp"
#include "sample_line.hpp"

using namespace calmshaft;
using sample::at_rpm;

namespace {

const PreparedLine& launch() {
  static const PreparedLine line(sample::launch());
  return line;
}

// Eight speeds of one gear, one with a dead cylinder, as they start.
struct EightSpeeds {
  EightSpeeds(Gear gear, int steps, Method method = usual_method)
      : crank(static_cast<std::size_t>(steps * nodes_per_step(method))) {
    job->method = method;
    job->steps = steps;
    job->bins = bins_for(steps);
    job->crank = crank.data();
    for (std::size_t lane = 0; lane < lane_count; ++lane) load(lane, gear);
  }

  void load(std::size_t lane, Gear gear) {
    Condition at = at_rpm(900.0 + 200.0 * static_cast<double>(lane), gear);
    if (lane == 1) at.strengths = {1, 1, 0, 1};
    const ConditionModel point(launch(), at);
    const EngineTables tables = point.tables(job->steps * nodes_per_step(job->method));
    const double fuelling = balanced_fuelling(point, tables);
    const StartState start = linear_start(point, tables, fuelling);
    job->in_use[lane] = true;
    if (lane == 0) copy_shape(point.model, job->model);
    for_each_value(point.model, job->model, [lane](double from, Octet& to) { to.lane[lane] = from; });
    job->watched = watched_coupling(point.model);
    job->cycle = point.cycle_angle;
    job->fuelling.lane[lane] = fuelling;
    job->work.mean_crank_speed.lane[lane] = at.speed;
    for (int i = 0; i < point.model.state_size(); ++i)
      job->state[i].lane[lane] = start.state[static_cast<std::size_t>(i)];
    job->work.friction[0].slider_twist.lane[lane] = start.friction[0].slider_twist;
    job->work.friction[0].coupling_twist.lane[lane] = start.friction[0].coupling_twist;
    for (std::size_t i = 0; i < crank.size(); ++i) {
      crank[i].inertia.lane[lane] = tables.inertia[i];
      crank[i].looseness.lane[lane] = 1.0 / (tables.inertia[i] + point.model.inertia[0]);
      crank[i].inertia_slope.lane[lane] = tables.inertia_slope[i];
      crank[i].base_torque.lane[lane] = tables.base_torque[i];
      crank[i].fuelled_torque.lane[lane] = tables.fuelled_torque[i];
    }
  }

  std::unique_ptr<CycleJob<Octet>> job = std::make_unique<CycleJob<Octet>>();
  std::vector<CrankNode<Octet>> crank;
};

bool same_bits(const CycleJob<Octet>& a, CycleJob<Octet>& b) {
  const auto size = static_cast<std::size_t>(a.model.state_size());
  bool same = true;
  for_each_value(a.meter, b.meter, a.model.couplings(), a.bins, [&](const Octet& one, const Octet& other) {
    same = same && std::memcmp(&one, &other, sizeof one) == 0;
  });
  return same && std::memcmp(a.state, b.state, size * sizeof(Octet)) == 0 &&
         std::memcmp(a.work.friction, b.work.friction, sizeof a.work.friction) == 0;
}

}  // namespace

TEST_CASE("all kernels that this processor runs give the same bits, with either method") {
  if (cycle_kernels().size() == 1) MESSAGE("this processor runs the plain kernel only: nothing to compare");
  for (const Gear gear : {Gear::ahead, Gear::astern, Gear::neutral})
    for (const Method method : {Method::leapfrog, Method::runge_kutta}) {
      CAPTURE(static_cast<int>(gear));
      EightSpeeds plain(gear, 4032, method);
      for (int cycle = 0; cycle < 3; ++cycle) cycle_kernels().back()(*plain.job);
      for (const CycleKernel kernel : cycle_kernels()) {
        EightSpeeds other(gear, 4032, method);
        for (int cycle = 0; cycle < 3; ++cycle) kernel(*other.job);
        REQUIRE(same_bits(*plain.job, *other.job));
      }
      const auto& channel = plain.job->meter.channel[0];
      CHECK(channel.torque_greatest.lane[0] - channel.torque_least.lane[0] > 0.1);  // they ran, all of them
    }
}

TEST_CASE("a lane computes the same bits whatever runs beside it") {
  EightSpeeds whole(Gear::ahead, 4032), altered(Gear::ahead, 4032);
  altered.job->fuelling.lane[1] *= 1.5;
  for (int i = 0; i < altered.job->model.state_size(); ++i)
    altered.job->state[i].lane[3] = 0.0;  // a line that stands still: NaN
  for (int cycle = 0; cycle < 3; ++cycle) {
    cycle_kernels().front()(*whole.job);
    cycle_kernels().front()(*altered.job);
  }
  for (int i = 0; i < whole.job->model.state_size(); ++i) {
    CHECK(whole.job->state[i].lane[0] == altered.job->state[i].lane[0]);
    CHECK(whole.job->state[i].lane[2] == altered.job->state[i].lane[2]);
  }
  CHECK(whole.job->state[0].lane[1] != altered.job->state[0].lane[1]);
}

TEST_CASE("every point is answered once, also where lanes are refilled or left empty") {
  for (const std::size_t count : {std::size_t{0}, std::size_t{1}, std::size_t{5}, std::size_t{11}}) {
    std::size_t handed_out = 0;
    std::multiset<std::size_t> answered;
    const auto next = [&]() -> std::optional<LanePoint> {
      if (handed_out == count) return std::nullopt;
      const std::size_t i = handed_out++;
      return LanePoint{i, &launch(), at_rpm(1900.0 + 50.0 * static_cast<double>(i))};
    };
    solve_in_lanes(2016, {}, next, [&](std::size_t i, SteadyResult&&) { answered.insert(i); });
    CHECK(answered.size() == count);
    CHECK(std::set<std::size_t>(answered.begin(), answered.end()).size() == count);
  }
}
