#include "calmshaft/simulate/linear_start.hpp"

#include <cmath>
#include <complex>
#include <limits>

#include "calmshaft/core/constants.hpp"
#include "calmshaft/core/number.hpp"
#include "calmshaft/simulate/cycle_measures.hpp"
#include "calmshaft/simulate/excitation.hpp"
#include "calmshaft/solve/linear_response.hpp"

namespace calmshaft {
namespace {

using Complex = std::complex<double>;

constexpr int felt = 24;  // harmonics of the cycle: those above change the start too little to save cycles

struct Vibration {
  Eigen::VectorXd angle;  // [rad] at crank angle 0
  Eigen::VectorXd speed;  // [rad/s]
};

Vibration vibration_at_zero(const ConditionModel& point, const EngineTables& tables, double fuelling) {
  const LinearSystem system = point.linearised();
  const std::vector<Complex> torque = excitation(tables, fuelling, point.condition.speed, bins_for(tables.nodes));
  const Eigen::Index n = point.model.stations;
  Vibration sum{Eigen::VectorXd::Zero(n), Eigen::VectorXd::Zero(n)};
  Eigen::VectorXcd force = Eigen::VectorXcd::Zero(n);
  for (int k = 1; k <= felt; ++k) {
    const double omega = k * point.condition.speed * two_pi / point.cycle_angle;
    force[0] = torque[static_cast<std::size_t>(k)];
    const Eigen::VectorXcd angle = response(system, omega, force);
    sum.angle += angle.real();
    sum.speed += (Complex(0.0, omega) * angle).real();
  }
  return sum;
}

// z = presliding angle in the direction of the twist speed.
FrictionMemory<double> sliding(const Model& model, int plate, const double* state) {
  const double* speed = state + model.stations;
  const Ends ends = model.damper_ends(plate);
  return {std::copysign(model.damper[plate].presliding_angle, speed[ends.from] - speed[ends.to]),
          angle_of(ends.from, state) - state[ends.to]};
}

}  // namespace

// Couplings of different kinds alternate along the chain, so settle station by station.
Eigen::VectorXd station_angles(const Model& model, std::span<const double> twist) {
  Eigen::VectorXd angle = Eigen::VectorXd::Zero(model.stations);
  for (int station = 1; station < model.stations; ++station) {
    std::size_t coupling = 0;
    const auto settle = [&](Ends ends, double ratio) {
      if (ends.to == station) angle[ends.to] = (angle[ends.from] - twist[coupling]) / ratio;
      ++coupling;
    };
    for (int i = 0; i < model.springs; ++i) settle(model.spring_ends(i), 1.0);
    for (int i = 0; i < model.dampers; ++i) settle(model.damper_ends(i), 1.0);
    for (int i = 0; i < model.meshes; ++i) settle(model.mesh_ends(i), model.mesh[i].ratio);
  }
  return angle;
}

double balanced_fuelling(const ConditionModel& point, const EngineTables& tables) {
  const double fuelled = mean_of(tables.fuelled_torque);
  if (!(fuelled > 0)) return std::numeric_limits<double>::quiet_NaN();
  return (point.mean.resistance - mean_of(tables.base_torque)) / fuelled;
}

StartState linear_start(const ConditionModel& point, const EngineTables& tables, double fuelling) {
  const Vibration vibration = vibration_at_zero(point, tables, fuelling);
  const Eigen::VectorXd angle = station_angles(point.model, point.mean.coupling_twist);
  const Model& model = point.model;
  StartState start;
  start.speed = point.condition.speed;
  start.stations = model.stations;
  start.dampers = model.dampers;
  double* state = start.state.data();
  for (int i = 0; i < model.stations; ++i) {
    const double ratio = model.speed_ratio[i];
    state[i] = i == 0 ? 0.0 : angle[i] + vibration.angle[i] - ratio * vibration.angle[0];
    state[model.stations + i] = ratio * point.condition.speed + vibration.speed[i];
  }
  for (int i = 0; i < model.dampers; ++i) start.friction[i] = sliding(model, i, state);
  return start;
}

}  // namespace calmshaft
