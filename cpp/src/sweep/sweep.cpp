#include "calmshaft/sweep/sweep.hpp"

#include <algorithm>
#include <exception>
#include <limits>
#include <map>
#include <mutex>
#include <thread>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/line/check.hpp"
#include "calmshaft/simulate/lanes.hpp"

namespace calmshaft {
namespace {

constexpr std::size_t order_count = 48;
const double nan = std::numeric_limits<double>::quiet_NaN();

void store(const SteadyResult& result, std::size_t point, SweepTable& table) {
  const std::size_t row = point * measure_count;
  for (std::size_t m = 0; m < measure_count; ++m) {
    table.value[row + m] = result.measures[m];
    if (result.spread[m].cycles == 0) continue;
    table.mean[row + m] = result.spread[m].mean;
    table.lowest_cycle[row + m] = result.spread[m].lowest;
    table.highest_cycle[row + m] = result.spread[m].highest;
    table.standard_error[row + m] = result.spread[m].standard_error;
  }
  for (std::size_t k = 0; k < std::min(order_count, result.orders.size()); ++k)
    table.order[point * order_count + k] = std::abs(result.orders[k]);
  table.fuelling[point] = result.fuelling;
  table.energy_defect[point] = result.audit.relative_defect();
  table.overfuelled[point] = result.overfuelled;
  table.period_cycles[point] = result.period_cycles;
  table.cycles[point] = result.cycles;
  table.steps_per_cycle[point] = result.steps_per_cycle;
  table.status[point] = static_cast<std::int8_t>(result.status);
}

// Faults of every kind of condition once, before any work.
void require_fitting(const std::vector<PreparedLine>& lines, const std::vector<SweepPoint>& points) {
  std::vector<Fault> faults;
  for (const SweepPoint& point : points) {
    for (Fault& fault : check(lines[static_cast<std::size_t>(point.line)].line(), point.condition)) {
      const auto same = [&](const Fault& f) { return describe(f) == describe(fault); };
      if (!fault.warning && std::none_of(faults.begin(), faults.end(), same)) faults.push_back(std::move(fault));
    }
  }
  if (!faults.empty()) throw LineError(std::move(faults));
}

int worker_count(const SweepOptions& options, std::size_t chunks) {
  const int cores = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  const int wanted = options.threads > 0 ? options.threads : cores;
  return static_cast<int>(std::min(static_cast<std::size_t>(wanted), chunks));
}

// Points that may share packs: one shape, one number of steps.
struct Group {
  Model shape;
  int steps;
  std::vector<std::size_t> points;
};

// Of the points that stand at place `first` of their column.
// The highest frequency is the costly part and belongs to line and gear, so it is found once for each.
std::vector<Group> grouped(const std::vector<PreparedLine>& lines, const std::vector<SweepPoint>& points,
                           std::size_t first, const SweepOptions& options, SweepTable& table) {
  std::map<std::pair<int, Gear>, double> frequencies;
  std::vector<Group> groups;
  for (std::size_t i = first; i < points.size(); i += options.column) {
    const ConditionModel point(lines[static_cast<std::size_t>(points[i].line)], points[i].condition);
    const auto key = std::pair(points[i].line, points[i].condition.gear);
    auto frequency = frequencies.find(key);
    if (frequency == frequencies.end()) frequency = frequencies.emplace(key, point.highest_frequency()).first;
    const auto [steps, none_because] = steps_for(point, frequency->second, options.steady);
    if (none_because) {
      store(unsolved(Status::failed, none_because), i, table);
      continue;
    }
    auto group = std::find_if(groups.begin(), groups.end(), [&, steps = steps](const Group& g) {
      return g.steps == steps && same_shape(g.shape, point.model);
    });
    if (group == groups.end()) group = groups.insert(group, {point.model, steps, {}});
    group->points.push_back(i);
  }
  std::stable_sort(groups.begin(), groups.end(), [](const Group& a, const Group& b) { return a.steps > b.steps; });
  return groups;
}

struct Chunk {
  int steps;
  std::vector<std::size_t> points;
};

// Long cycles first, so that no thread is left with them at the end.
std::vector<Chunk> chunks_of(const std::vector<Group>& groups, std::size_t most) {
  std::vector<Chunk> chunks;
  for (const Group& group : groups)
    for (std::size_t first = 0; first < group.points.size(); first += most) {
      const auto begin = group.points.begin() + static_cast<std::ptrdiff_t>(first);
      const auto count = static_cast<std::ptrdiff_t>(std::min(most, group.points.size() - first));
      chunks.push_back({group.steps, std::vector<std::size_t>(begin, begin + count)});
    }
  return chunks;
}

}  // namespace

SweepTable::SweepTable(std::size_t points)
    : value(points * measure_count, nan),
      mean(value),
      lowest_cycle(value),
      highest_cycle(value),
      standard_error(value),
      order(points * order_count, nan),
      fuelling(points, nan),
      energy_defect(points, nan),
      status(points, -1),
      overfuelled(points, 0),
      period_cycles(points, 0),
      cycles(points, 0),
      steps_per_cycle(points, 0) {}

namespace {

// What all workers share while one place of every column is solved.
struct Round {
  const std::vector<PreparedLine>& lines;
  const std::vector<SweepPoint>& points;
  const SweepOptions& options;
  SweepTable& table;
  SweepProgress& progress;
  std::vector<StartState>& ends;  // by column; empty where every point starts from cold
};

void solve(const Chunk& chunk, const Round& round) {
  const std::size_t column = round.options.column;
  std::size_t handed_out = 0;
  const auto next = [&]() -> std::optional<LanePoint> {
    if (handed_out == chunk.points.size() || round.progress.stop) return std::nullopt;
    const std::size_t point = chunk.points[handed_out++];
    const StartState* start = point % column == 0 ? nullptr : &round.ends[point / column];
    return LanePoint{point, &round.lines[static_cast<std::size_t>(round.points[point].line)],
                     round.points[point].condition, start};
  };
  solve_in_lanes(chunk.steps, round.options.steady, next, [&](std::size_t point, SteadyResult&& result) {
    store(result, point, round.table);
    if (column > 1) round.ends[point / column] = result.end;
    ++round.progress.done;
  });
}

void run_round(const std::vector<Chunk>& chunks, const Round& round) {
  std::atomic<std::size_t> next_chunk{0};
  std::exception_ptr failure;
  std::mutex failure_guard;
  const auto work = [&] {
    try {
      for (std::size_t i = next_chunk++; i < chunks.size() && !round.progress.stop; i = next_chunk++)
        solve(chunks[i], round);
    } catch (...) {
      const std::lock_guard lock(failure_guard);
      failure = std::current_exception();
      round.progress.stop = true;
    }
  };
  std::vector<std::jthread> workers;
  for (int i = 1; i < worker_count(round.options, chunks.size()); ++i) workers.emplace_back(work);
  work();
  workers.clear();
  if (failure) std::rethrow_exception(failure);
}

}  // namespace

// Every column takes a step at a time, so that packs are filled from all of them.
void sweep(const std::vector<PreparedLine>& lines, const std::vector<SweepPoint>& points, const SweepOptions& options,
           SweepTable& table, SweepProgress& progress) {
  constexpr std::size_t apart = 128, in_step = 8;  // points of a chunk
  require_fitting(lines, points);
  std::vector<StartState> ends(options.column > 1 ? points.size() / options.column + 1 : 0);
  const Round round{lines, points, options, table, progress, ends};
  for (std::size_t place = 0; place < options.column && !progress.stop; ++place) {
    const auto chunks = chunks_of(grouped(lines, points, place, options, table), options.column > 1 ? in_step : apart);
    progress.done = static_cast<std::size_t>(
        std::count_if(table.status.begin(), table.status.end(), [](auto status) { return status >= 0; }));
    run_round(chunks, round);
  }
}

}  // namespace calmshaft
