// Rules of the working cycle and of engine friction.
#include <numbers>
#include <string>

#include "calmshaft/line/checker.hpp"

namespace calmshaft {
namespace {

using namespace workshop;

// Angles after firing top dead centre: the inlet closes, burning starts, the exhaust opens, bottom dead
// centre.
void check_timing(const Engine& engine, Checker& checker) {
  const Combustion& c = engine.combustion;
  // An inlet that is still open at the bottom of a two-stroke's cycle belongs to the cycle before.
  const double earliest = -std::numbers::pi * (engine.strokes == 2 ? 1.0 : 1.5);
  const bool closes = checker.between("inlet_closes", c.inlet_closes, earliest, 0.0, degree,
                                      "write degrees after firing top dead centre, before it negative");
  const bool opens = checker.between("exhaust_opens", c.exhaust_opens, 0.0, std::numbers::pi, degree,
                                     "write degrees after firing top dead centre");
  const bool burns = checker.positive("burn_duration", c.burn_duration, degree, "write e.g. \"50 deg\"");
  if (!closes || !opens) return;
  const bool starts = checker.between("burn_start", c.burn_start, c.inlet_closes, c.exhaust_opens, degree,
                                      "start burning while the valves are closed, e.g. \"-2 deg\"");
  if (!starts || !burns) return;
  checker.usual("burn_start", c.burn_start, -60 * degree.si, 30 * degree.si, degree,
                "write degrees after firing top dead centre");
  checker.usual("burn_duration", c.burn_duration, 15 * degree.si, 120 * degree.si, degree,
                "write from start to end of burning");
}

void check_gas(const Combustion& c, Checker& checker) {
  checker.positive("burn_coefficient", c.burn_coefficient, number,
                   "write 6.9 where 99.9 % burns in the duration");
  checker.not_negative("burn_exponent", c.burn_exponent, number, "write e.g. 0.7 for a diesel, 2 for petrol");
  const std::string exponent = "write about 1.35";
  if (checker.between("polytropic_exponent", c.polytropic_exponent, 1.0, 2.0, number, exponent))
    checker.usual("polytropic_exponent", c.polytropic_exponent, 1.2, 1.45, number, exponent);
  const std::string absolute = "write the absolute pressure, e.g. \"1.0 bar\"";
  if (checker.positive("inlet_pressure", c.inlet_pressure, pressure, absolute))
    checker.usual("inlet_pressure", c.inlet_pressure, 0.2 * pressure.si, 6 * pressure.si, pressure, absolute);
  if (checker.positive("exhaust_pressure", c.exhaust_pressure, pressure, absolute))
    checker.usual("exhaust_pressure", c.exhaust_pressure, 0.7 * pressure.si, 6 * pressure.si, pressure,
                  absolute);
}

void check_friction(const EngineFriction& friction, Checker checker) {
  const std::string advice = "leave it out to have it estimated";
  const WorkshopUnit per_speed{1.0, " Pa*s/rad"};
  const WorkshopUnit per_square{1.0, " Pa*s^2/m^2"};
  checker.not_negative("constant", friction.constant, pressure, advice);
  checker.not_negative("per_speed", friction.per_speed, per_speed, advice);
  checker.not_negative("per_piston_speed_squared", friction.per_piston_speed_squared, per_square, advice);
}

}  // namespace

void check_combustion(const Engine& engine, Checker checker) {
  Checker combustion = checker.part("combustion");
  check_timing(engine, combustion);
  check_gas(engine.combustion, combustion);
  check_friction(engine.friction, checker.part("friction"));
}

}  // namespace calmshaft
