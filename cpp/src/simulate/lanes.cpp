#include "calmshaft/simulate/lanes.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "calmshaft/simulate/cycle_measures.hpp"
#include "calmshaft/simulate/lane.hpp"

namespace calmshaft {
namespace {

class Pack {
 public:
  Pack(int steps, const SteadyOptions& options)
      : options_(options),
        crank_(static_cast<std::size_t>(steps * nodes_per_step(options.method))),
        job_(std::make_unique<CycleJob<Octet>>()),
        lanes_(lanes(std::make_integer_sequence<int, lane_count>{})) {
    job_->method = options.method;
    job_->steps = steps;
    job_->bins = bins_for(steps);
    job_->crank = crank_.data();
  }

  // The first point shapes the pack and stands in every lane, so that an idle lane computes something sound.
  void open(const LanePoint& point) {
    const ConditionModel shape(*point.line, point.condition);
    const auto spread = [](double from, Octet& to) { std::fill_n(to.lane, lane_count, from); };
    copy_shape(shape.model, job_->model);
    for_each_value(shape.model, job_->model, spread);
    job_->watched = watched_coupling(shape.model);
    job_->cycle = shape.cycle_angle;
    for (Lane& lane : lanes_) {
      lane.start(point);
      lane.leave();
    }
  }

  std::array<Lane, lane_count>& lanes() { return lanes_; }
  bool busy() const {
    return std::any_of(lanes_.begin(), lanes_.end(), [](const Lane& lane) { return lane.busy(); });
  }
  void run_cycle() { kernel_(*job_); }

  // Runs on and writes down one lane; then all lanes are put back to where they were.
  CycleRecord record(std::size_t lane, int cycles) {
    const auto before = std::make_unique<CycleJob<Octet>>(*job_);
    const int channels = recorded_channels(job_->model);
    std::vector<Octet> buffer(static_cast<std::size_t>((job_->steps + 1) * channels));
    CycleRecord record;
    record.step = job_->cycle / job_->steps;
    record.speed.resize(static_cast<std::size_t>(job_->model.stations));
    record.twist.resize(static_cast<std::size_t>(job_->model.couplings()));
    record.torque.resize(record.twist.size());
    job_->recording = buffer.data();
    for (int cycle = 0; cycle < cycles; ++cycle) {
      run_cycle();
      append(buffer, channels, lane, record);
      lanes_[lane].hold_speed();
    }
    *job_ = *before;
    return record;
  }

 private:
  template <int... lane>
  std::array<Lane, lane_count> lanes(std::integer_sequence<int, lane...>) {
    return {Lane(lane, *job_, crank_, options_)...};
  }

  // A cycle's last node is the next one's first.
  void append(const std::vector<Octet>& buffer, int channels, std::size_t lane, CycleRecord& record) const {
    const double since = record.time.empty() ? 0.0 : record.time.back();
    const int first = record.time.empty() ? 0 : 1;
    for (int node = first; node <= job_->steps; ++node) {
      const Octet* in = buffer.data() + static_cast<std::ptrdiff_t>(node) * channels;
      record.time.push_back(since + (in++)->lane[lane]);
      for (auto* columns : {&record.speed, &record.twist, &record.torque})
        for (auto& column : *columns) column.push_back((in++)->lane[lane]);
    }
  }

  SteadyOptions options_;
  CycleKernel kernel_ = cycle_kernels().front();
  std::vector<CrankNode<Octet>> crank_;
  std::unique_ptr<CycleJob<Octet>> job_;
  std::array<Lane, lane_count> lanes_;
};

}  // namespace

void solve_in_lanes(int steps, const SteadyOptions& options, const std::function<std::optional<LanePoint>()>& next,
                    const std::function<void(std::size_t, SteadyResult&&)>& done) {
  std::optional<LanePoint> waiting = next();
  if (!waiting) return;
  Pack pack(steps, options);
  pack.open(*waiting);
  const auto refill = [&](Lane& lane) {
    if (waiting)
      lane.start(*waiting);
    else
      lane.leave();
    if (waiting) waiting = next();
  };
  for (Lane& lane : pack.lanes()) refill(lane);
  while (pack.busy()) {
    pack.run_cycle();
    for (std::size_t i = 0; i < lane_count; ++i) {
      Lane& lane = pack.lanes()[i];
      if (!lane.busy()) continue;
      std::optional<SteadyResult> result = lane.after_cycle();
      if (!result) continue;
      const bool solved = result->status != Status::stalled && result->status != Status::failed;
      if (options.keep_signals && solved) result->record = pack.record(i, lane.cycles_to_record());
      done(lane.index(), std::move(*result));
      refill(lane);
    }
  }
}

}  // namespace calmshaft
