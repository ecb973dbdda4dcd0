// Combustion and friction to assume when the builder cannot know them.
#pragma once

#include "calmshaft/line/elements.hpp"

namespace calmshaft {

Combustion default_combustion(Fuel fuel, int strokes);

// stroke [m]: the petrol rule is quadratic in crank speed, ours in piston speed.
EngineFriction default_friction(Fuel fuel, int strokes, double stroke);

}  // namespace calmshaft
