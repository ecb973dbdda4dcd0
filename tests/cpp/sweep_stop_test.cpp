// A sweep that is stopped on the way. Our own contract: finished rows stand, the others stay empty.
#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <cstring>
#include <thread>

#include "calmshaft/sweep/sweep.hpp"
#include "sample_line.hpp"

using namespace calmshaft;

TEST_CASE("a sweep stopped half-way keeps the rows it finished, to the bit") {
  const std::vector<PreparedLine> lines{PreparedLine(sample::launch())};
  std::vector<SweepPoint> points;
  for (int i = 0; i < 600; ++i) points.push_back({0, sample::at_rpm(1500.0 + i)});
  SweepTable table(points.size());
  SweepProgress progress;
  std::jthread watcher([&] {
    while (progress.done < 8) std::this_thread::sleep_for(std::chrono::milliseconds(1));
    progress.stop = true;
  });
  sweep(lines, points, {1, 1, {}}, table, progress);
  watcher.join();
  std::size_t finished = 0;
  for (std::size_t i = 0; i < points.size(); ++i) {
    if (table.status[i] < 0) {
      CHECK(std::isnan(table.fuelling[i]));
      CHECK(std::isnan(table.mean[i * measure_count]));
      continue;
    }
    if (++finished > 3) continue;
    const SteadyResult alone = steady(lines[0], points[i].condition);
    CHECK(std::memcmp(alone.measures.data(), table.value.data() + i * measure_count, sizeof(Measures)) == 0);
  }
  CHECK(finished == progress.done);
  CHECK(finished >= 8);
  CHECK(finished < points.size());
}
