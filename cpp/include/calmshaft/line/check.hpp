// All rules that the values of a line must keep, in one place.
#pragma once

#include <vector>

#include "calmshaft/core/errors.hpp"
#include "calmshaft/line/line.hpp"

namespace calmshaft {

// Every fault and warning of a line, in the order engine, flywheel, plate, gearbox, shaft, propeller, table.
// A line without faults (warnings are not faults) can be assembled and run.
std::vector<Fault> check(const Line& line);

// What is wrong with asking this condition of the line. Says nothing about the line itself.
std::vector<Fault> check(const Line& line, const Condition& condition);

}  // namespace calmshaft
