#include "calmshaft/simulate/method.hpp"

#include <stdexcept>
#include <string>

namespace calmshaft {

Method method_of(std::string_view name) {
  if (name == "leapfrog") return Method::leapfrog;
  if (name == "runge kutta") return Method::runge_kutta;
  throw std::invalid_argument("method '" + std::string(name) + "' is not known: write leapfrog or runge kutta");
}

}  // namespace calmshaft
