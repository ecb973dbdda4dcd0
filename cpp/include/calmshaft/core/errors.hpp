// What went wrong, in words a builder can act on.
#pragma once

#include <stdexcept>
#include <string>
#include <vector>

namespace calmshaft {

// One fault of a description. `path` is the key in the line file, e.g. "plate.stages[0].stiffness".
struct Fault {
  std::string path;
  std::string value;   // as understood, with unit
  std::string rule;    // what must hold
  std::string advice;  // what to write instead
  bool warning = false;
};

// The description is wrong; carries every fault found.
class LineError : public std::invalid_argument {
 public:
  explicit LineError(std::vector<Fault> faults);
  const std::vector<Fault>& faults() const noexcept { return faults_; }

 private:
  std::vector<Fault> faults_;
};

// The numbers failed; says when and where.
class SolveError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

// "path: value is ..., rule; advice" on one line.
std::string describe(const Fault& fault);

}  // namespace calmshaft
