#include "calmshaft/engine/cylinder_pressure.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "calmshaft/core/constants.hpp"

namespace calmshaft {

namespace {

using std::numbers::pi;

// Half the crank angle around gas-exchange top dead centre in which exhaust pressure gives way to inlet
// pressure: about the valve overlap of a plain engine (common practice, no source). The volume hardly changes
// there.
constexpr double overlap_half = 20.0 * pi / 180.0;  // [rad]

// Rises from 0 to 1 between begin and end with level ends: 3 u^2 - 2 u^3.
double smooth_step(double angle, double begin, double end) {
  if (angle <= begin) return 0.0;
  if (angle >= end) return 1.0;
  const double u = (angle - begin) / (end - begin);
  return u * u * (3.0 - 2.0 * u);
}

}  // namespace

double polytropic_pressure(double pressure, double volume_before, double volume_after, double exponent) {
  return pressure * std::pow(volume_before / volume_after, exponent);
}

CylinderPressure::CylinderPressure(const Engine& engine)
    : combustion_(engine.combustion),
      volume_(cylinder_volume(engine)),
      strokes_(engine.strokes),
      trapped_volume_(volume_.at(combustion_.inlet_closes)),
      // p_f V^n = (n-1) * integral of V^(n-1) dQ, with V over the trapped volume
      heat_rise_(wiebe(combustion_), [this](double angle) {
        return std::pow(volume_.at(angle) / trapped_volume_, combustion_.polytropic_exponent - 1.0);
      }) {}

// Four-stroke: closed, released until bottom dead centre, exhaust, overlap, inlet.
// Two-stroke: closed, released until bottom dead centre, then exhaust gives way to inlet until that closes.
CylinderPressure::Shares CylinderPressure::shares(double angle) const {
  const double released = smooth_step(angle, combustion_.exhaust_opens, pi);
  const double inlet = strokes_ == 4 ? smooth_step(angle, two_pi - overlap_half, two_pi + overlap_half)
                                     : smooth_step(angle, pi, combustion_.inlet_closes + cycle());
  return {1.0 - released, released - inlet, inlet};
}

PressureParts CylinderPressure::at(double angle) const { return at(angle, volume_.at(angle)); }

PressureParts CylinderPressure::at(double angle, double volume) const {
  const double turned =
      angle - cycle() * std::floor((angle - combustion_.inlet_closes) / cycle());  // closed cycle first
  const Shares share = shares(turned);
  const double charge = share.inlet * combustion_.inlet_pressure;
  const double open = share.exhaust * combustion_.exhaust_pressure;
  if (share.closed == 0.0) return {open, charge, 0.0};
  const double n = combustion_.polytropic_exponent;
  const double compressed = share.closed * polytropic_pressure(1.0, trapped_volume_, volume, n);
  return {open, charge + compressed * combustion_.inlet_pressure,
          compressed * (n - 1.0) * heat_rise_.at(turned) / trapped_volume_};
}

std::vector<double> CylinderPressure::corners() const {
  const double closes = combustion_.inlet_closes;
  std::vector<double> angles = {closes,
                                combustion_.burn_start,
                                combustion_.burn_start + combustion_.burn_duration,
                                combustion_.exhaust_opens,
                                pi,
                                two_pi - overlap_half,
                                two_pi + overlap_half,
                                closes + cycle()};
  std::erase_if(angles, [&](double angle) { return angle < closes || angle > closes + cycle(); });
  std::sort(angles.begin(), angles.end());
  return angles;
}

}  // namespace calmshaft
