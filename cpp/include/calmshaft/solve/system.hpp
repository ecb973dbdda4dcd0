// The seam between a model and the steppers: all that a solver may know of what it integrates.
#pragma once

namespace calmshaft {

class System {
 public:
  virtual ~System() = default;
  virtual int size() const = 0;
  // Writes d(state)/d(at); `state` and `rate` hold size() values.
  virtual void derivative(double at, const double* state, double* rate) = 0;
  // Called once after every accepted step: memory of friction is renewed here.
  virtual void after_step(double at, const double* state) = 0;
};

}  // namespace calmshaft
