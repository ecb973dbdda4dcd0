#include "calmshaft/sweep/sweep.hpp"

#include <doctest/doctest.h>

#include <cstring>

#include "calmshaft/core/errors.hpp"
#include "sample_line.hpp"

using namespace calmshaft;

namespace {

std::vector<SweepPoint> points() {
  std::vector<SweepPoint> made;
  for (const Gear gear : {Gear::ahead, Gear::neutral})
    for (int i = 0; i < 6; ++i) made.push_back({0, sample::at_rpm(1500 + 150 * i, gear)});
  return made;
}

SweepTable swept(int threads, const std::vector<SweepPoint>& wanted, std::size_t column = 1) {
  const std::vector<PreparedLine> lines{PreparedLine(sample::launch())};
  SweepTable table(wanted.size());
  SweepProgress progress;
  sweep(lines, wanted, {threads, column, {}}, table, progress);
  CHECK(progress.done == wanted.size());
  return table;
}

}  // namespace

TEST_CASE("threads and company change no bit of a sweep") {
  const SweepTable one = swept(1, points()), two = swept(2, points());
  CHECK(std::memcmp(one.value.data(), two.value.data(), one.value.size() * sizeof(double)) == 0);
  CHECK(one.status == two.status);
  const PreparedLine line(sample::launch());
  const SteadyResult alone = steady(line, points()[3].condition);
  CHECK(std::memcmp(alone.measures.data(), one.value.data() + 3 * measure_count, sizeof(Measures)) == 0);
}

TEST_CASE("a sweep that is stopped leaves the other rows untouched") {
  const std::vector<PreparedLine> lines{PreparedLine(sample::launch())};
  SweepTable table(points().size());
  SweepProgress progress;
  progress.stop = true;
  sweep(lines, points(), {1, 1, {}}, table, progress);
  for (const auto status : table.status) CHECK(status == -1);
}

TEST_CASE("conditions that do not fit the line are refused before any work") {
  std::vector<SweepPoint> wanted = points();
  wanted.back().condition.strengths = {1, 1};
  const std::vector<PreparedLine> lines{PreparedLine(sample::launch())};
  SweepTable table(wanted.size());
  SweepProgress progress;
  CHECK_THROWS_AS(sweep(lines, wanted, {1, 1, {}}, table, progress), LineError);
  CHECK(progress.done == 0);
}

TEST_CASE("a line made ready like another gives the bits that it gives alone") {
  const PreparedLine launch(sample::launch());
  Line softer = sample::launch(), stronger = sample::launch();
  softer.plate.drive.stages[0].stiffness *= 0.5;
  stronger.engine.rated_torque *= 1.1;  // another engine: no cycles to share
  for (const Line& line : {softer, stronger}) {
    const PreparedLine alone(line), like(line, launch);
    CHECK(like.cycles().rated_heat() == alone.cycles().rated_heat());
    const auto measures = [&](const PreparedLine& one) { return steady(one, sample::at_rpm(1500)).measures; };
    CHECK(std::memcmp(measures(alone).data(), measures(like).data(), sizeof(Measures)) == 0);
  }
  softer.engine.bore = -1;
  CHECK_THROWS_AS(PreparedLine(softer, launch), LineError);
}

TEST_CASE("columns in step give the same bits on any threads, and begin as the point alone does") {
  const SweepTable one = swept(1, points(), 3), two = swept(2, points(), 3), cold = swept(1, points());
  CHECK(std::memcmp(one.value.data(), two.value.data(), one.value.size() * sizeof(double)) == 0);
  for (std::size_t column = 0; column < points().size(); column += 3)
    CHECK(std::memcmp(one.value.data() + column * measure_count, cold.value.data() + column * measure_count,
                      sizeof(Measures)) == 0);
  CHECK(one.cycles != cold.cycles);  // the neighbour's end is no cold start
  CHECK(one.status == cold.status);
}

TEST_CASE("a larger phase a step asks for fewer steps, but never for more decay in one than is stable") {
  const double frequency = 2e4, slow = 1.0, fast = 6e4, cycle_time = 0.15;
  const StepLimits coarse = step_limits(1.2), fine = step_limits(0.3);
  CHECK(ladder_steps(frequency, slow, cycle_time, coarse) < ladder_steps(frequency, slow, cycle_time));
  CHECK(ladder_steps(frequency, slow, cycle_time, fine) > ladder_steps(frequency, slow, cycle_time));
  CHECK(ladder_steps(frequency, fast, cycle_time, coarse) == ladder_steps(1.0, fast, cycle_time));
}

TEST_CASE("a sweep takes its steps by the phase that it is given") {
  const std::vector<PreparedLine> lines{PreparedLine(sample::launch())};
  const std::vector<SweepPoint> wanted{{0, sample::at_rpm(1820)}};
  SweepOptions coarse;
  coarse.steady.phase_step = 1.2;
  SweepTable table(1);
  SweepProgress progress;
  sweep(lines, wanted, coarse, table, progress);
  const ConditionModel point(lines[0], wanted[0].condition);
  CHECK(table.steps_per_cycle[0] == point.steps_per_cycle(step_limits(1.2)));
  CHECK(table.steps_per_cycle[0] < point.steps_per_cycle());
  CHECK(table.steps_per_cycle[0] == steady(lines[0], wanted[0].condition, coarse.steady).steps_per_cycle);
}
