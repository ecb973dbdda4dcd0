#include "calmshaft/engine/cylinder_volume.hpp"

#include <numbers>

namespace calmshaft {

double piston_area(double bore) { return std::numbers::pi / 4.0 * bore * bore; }

double swept_volume(double bore, double stroke) { return piston_area(bore) * stroke; }

double clearance_volume(double swept, double compression_ratio) { return swept / (compression_ratio - 1.0); }

SliderCrank slider_crank(const Engine& engine) { return {engine.stroke / 2.0, engine.rod_length}; }

MovingParts moving_parts(const Engine& engine) {
  return {engine.piston_mass, engine.rod_mass, engine.rod_centre_from_big_end, engine.rod_inertia};
}

CylinderVolume cylinder_volume(const Engine& engine) {
  return {slider_crank(engine), piston_area(engine.bore),
          clearance_volume(swept_volume(engine.bore, engine.stroke), engine.compression_ratio)};
}

double cycle_angle(int strokes) { return std::numbers::pi * strokes; }

}  // namespace calmshaft
