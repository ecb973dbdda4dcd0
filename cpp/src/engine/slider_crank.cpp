#include "calmshaft/engine/slider_crank.hpp"

#include <cmath>

namespace calmshaft {

namespace {

// Rod angle b against the cylinder axis, sin b = (r/l) sin(th), and its derivatives to crank angle.
struct RodSwing {
  double sine;
  double cosine;
  double slope;      // b' = (r/l) cos(th) / cos b
  double curvature;  // b'' = (b'^2 sin b - (r/l) sin(th)) / cos b
};

struct Position {
  double crank_sine;
  double crank_cosine;
  RodSwing rod;
};

Position position(const SliderCrank& crank, double angle) {
  const double lambda = crank.crank_radius / crank.rod_length;
  const double s = std::sin(angle);
  const double c = std::cos(angle);
  const double rod_sine = lambda * s;
  const double rod_cosine = std::sqrt(1.0 - rod_sine * rod_sine);
  const double slope = lambda * c / rod_cosine;
  return {s, c, {rod_sine, rod_cosine, slope, (slope * slope * rod_sine - lambda * s) / rod_cosine}};
}

// x = r (1 - cos th) + l (1 - cos b)
PistonMotion motion(const SliderCrank& crank, const Position& at) {
  const RodSwing& b = at.rod;
  const double r = crank.crank_radius;
  const double l = crank.rod_length;
  // sin^2 / (1 + cos) = 1 - cos keeps its digits near top dead centre; at bottom dead centre it is 0 / 0.
  const double crank_drop =
      at.crank_cosine > 0 ? at.crank_sine * at.crank_sine / (1.0 + at.crank_cosine) : 1.0 - at.crank_cosine;
  return {r * crank_drop + l * b.sine * b.sine / (1.0 + b.cosine), r * at.crank_sine + l * b.sine * b.slope,
          r * at.crank_cosine + l * (b.cosine * b.slope * b.slope + b.sine * b.curvature)};
}

}  // namespace

PistonMotion piston_motion(const SliderCrank& crank, double angle) {
  return motion(crank, position(crank, angle));
}

// J = m_p x'^2 + m_r (X'^2 + Y'^2) + I_r b'^2, (X, Y) the rod's centre of mass, a part f = c/l up the rod:
// X = (1 - f) r sin th across, Y = r cos th + c cos b along the cylinder axis.
Inertia moving_inertia(const SliderCrank& crank, const MovingParts& parts, double angle) {
  const Position at = position(crank, angle);
  const PistonMotion piston = motion(crank, at);
  const RodSwing& b = at.rod;
  const double r = crank.crank_radius;
  const double c = parts.rod_centre_from_big_end;
  const double across = (1.0 - c / crank.rod_length) * r;
  const double dx = across * at.crank_cosine;
  const double ddx = -across * at.crank_sine;
  const double dy = -r * at.crank_sine - c * b.sine * b.slope;
  const double ddy = -r * at.crank_cosine - c * (b.cosine * b.slope * b.slope + b.sine * b.curvature);
  return {parts.piston_mass * piston.slope * piston.slope + parts.rod_mass * (dx * dx + dy * dy) +
              parts.rod_inertia * b.slope * b.slope,
          2.0 * (parts.piston_mass * piston.slope * piston.curvature +
                 parts.rod_mass * (dx * ddx + dy * ddy) + parts.rod_inertia * b.slope * b.curvature)};
}

}  // namespace calmshaft
