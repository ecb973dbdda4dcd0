// From the builder's description to the mass-elastic system of one gear.
#pragma once

#include "calmshaft/line/line.hpp"
#include "calmshaft/model/mass_elastic.hpp"

namespace calmshaft {

// Stations: crank | gearbox input | gearbox output | shaft pieces | propeller | unloaded gears. A rigid plate
// puts the gearbox input on the crank's station. Neutral ends at the gearbox input and its unloaded gears.
// `load` and `load_torque` of the condition set the propeller's coefficient. Assumes a checked line.
MassElastic assemble(const Line& line, const Condition& condition);

}  // namespace calmshaft
