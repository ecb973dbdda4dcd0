#include "calmshaft/sweep/sweep.hpp"

#include <algorithm>
#include <exception>
#include <limits>
#include <mutex>
#include <thread>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/line/check.hpp"

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

int worker_count(const SweepOptions& options, std::size_t points) {
  const int cores = std::max(1, static_cast<int>(std::thread::hardware_concurrency()));
  const int wanted = options.threads > 0 ? options.threads : cores;
  return static_cast<int>(std::min(static_cast<std::size_t>(wanted), points));
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

void sweep(const std::vector<PreparedLine>& lines, const std::vector<SweepPoint>& points, const SweepOptions& options,
           SweepTable& table, SweepProgress& progress) {
  require_fitting(lines, points);
  std::atomic<std::size_t> next{0};
  std::exception_ptr failure;
  std::mutex failure_guard;
  const auto work = [&] {
    try {
      for (std::size_t i = next++; i < points.size() && !progress.stop; i = next++) {
        store(steady(lines[static_cast<std::size_t>(points[i].line)], points[i].condition, options.steady), i, table);
        ++progress.done;
      }
    } catch (...) {
      const std::lock_guard lock(failure_guard);
      failure = std::current_exception();
      progress.stop = true;
    }
  };
  std::vector<std::jthread> workers;
  for (int i = 1; i < worker_count(options, points.size()); ++i) workers.emplace_back(work);
  work();
  workers.clear();
  if (failure) std::rethrow_exception(failure);
}

}  // namespace calmshaft
