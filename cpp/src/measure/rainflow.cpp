#include "calmshaft/measure/rainflow.hpp"

#include <cmath>
#include <cstddef>
#include <stdexcept>
#include <string>

namespace calmshaft {
namespace {

void check_finite(std::span<const double> values) {
  for (std::size_t i = 0; i < values.size(); ++i)
    if (!std::isfinite(values[i]))
      throw std::invalid_argument("rainflow: value " + std::to_string(i) + " (counted from 0) is " +
                                  std::to_string(values[i]) + "; give finite numbers only");
}

CountedCycle between(double from, double to, double count) {
  // halves are added, so that the sum of large numbers stays finite
  return {std::fabs(to - from), 0.5 * from + 0.5 * to, count};
}

// Turning points that are not yet part of a counted cycle.
class OpenTurns {
 public:
  explicit OpenTurns(std::vector<CountedCycle>& counted) : counted_(counted) {}

  // With X the newest range and Y the one before it: as long as X is no smaller than Y, Y is counted. It is a
  // half cycle where it holds the start of the history, which then moves on, and else a whole one.
  void add(double turn) {
    open_.push_back(turn);
    while (open_.size() - start_ >= 3 && newest(0) >= newest(1)) {
      const std::size_t size = open_.size();
      if (size - start_ == 3) {
        counted_.push_back(between(open_[start_], open_[start_ + 1], 0.5));
        ++start_;
      } else {
        counted_.push_back(between(open_[size - 3], open_[size - 2], 1.0));
        open_.erase(open_.end() - 3, open_.end() - 1);
      }
    }
  }

  void count_rest_as_halves() {
    for (std::size_t i = start_; i + 1 < open_.size(); ++i) counted_.push_back(between(open_[i], open_[i + 1], 0.5));
  }

 private:
  double newest(std::size_t back) const {
    const std::size_t last = open_.size() - 1 - back;
    return std::fabs(open_[last] - open_[last - 1]);
  }

  std::vector<CountedCycle>& counted_;
  std::vector<double> open_;
  std::size_t start_ = 0;  // of the history that is left; what lies before it is counted
};

}  // namespace

std::vector<CountedCycle> rainflow(std::span<const double> values) {
  check_finite(values);
  std::vector<CountedCycle> counted;
  if (values.empty()) return counted;
  OpenTurns turns(counted);
  turns.add(values.front());
  double direction = 0.0, here = values.front();
  for (const double next : values.subspan(1)) {
    if (next == here) continue;
    const double now = next > here ? 1.0 : -1.0;
    if (direction != 0.0 && now != direction) turns.add(here);
    direction = now;
    here = next;
  }
  if (direction != 0.0) turns.add(here);
  turns.count_rest_as_halves();
  return counted;
}

}  // namespace calmshaft
