// The launch's equations of launch_equations.py in C++, for Boost.Odeint's dopri5: one engine cycle a call.
// Compiled by launch_peers.py when the benchmark runs. Units SI, crank angle in radians.

#include <algorithm>
#include <array>
#include <boost/numeric/odeint.hpp>
#include <cmath>
#include <functional>

namespace {

struct Numbers {  // in the order of launch_peers.py
  double damping, reach, friction, drive_stop, coast_stop, stop, stop_factor;
  double ratio, teeth, factor, half, pair_ratio, pair_teeth, pair_factor, pair_half;
  double shaft, shaft_damping, law, extra, f0, f1, f2;
  double j1, j2, j3, j4, r1, r2, r3, r4, d0, d1, d2, d3, d4, cycle;
};

using State = std::array<double, 10>;  // [clock | q_1..q_4 | w_0..w_4], each over its size

double flank(double stiffness, double factor, double depth, double approach) {
  return depth > 0.0 ? stiffness * depth * std::max(0.0, 1.0 + factor * approach) : 0.0;
}

double cubic(const double* row, double x) { return ((row[0] * x + row[1]) * x + row[2]) * x + row[3]; }

struct Launch {
  const Numbers& n;
  const double* ramps;
  int ramp_count;
  const double* rows;
  int nodes;
  const double* sizes;
  double* memory;  // fuelling, mean crank speed, slider and twist of the plate after the last step

  double slider(double twist) const { return std::clamp(memory[2] + twist - memory[3], -n.reach, n.reach); }

  double plate(double twist, double turning) const {
    double torque = n.damping * turning + n.friction / n.reach * slider(twist);
    for (int i = 0; i < ramp_count; ++i) {
      const double* ramp = ramps + 3 * i;
      torque += ramp[0] * ramp[2] * std::max(0.0, ramp[0] * twist - ramp[1]);
    }
    return torque + flank(n.stop, n.stop_factor, twist - n.drive_stop, turning) -
           flank(n.stop, n.stop_factor, -twist - n.coast_stop, -turning);
  }

  void operator()(const State& scaled, State& rate, double angle) const {
    State y;
    for (int i = 0; i < 10; ++i) y[i] = scaled[i] * sizes[i];
    const double q1 = y[1], q2 = y[2], q3 = y[3], q4 = y[4], w0 = y[5], w1 = y[6], w2 = y[7], w3 = y[8], w4 = y[9];
    const double sprung = plate(-q1, w0 - w1);
    double twist = q1 - n.ratio * q2, turning = w1 - n.ratio * w2;
    const double mesh =
        flank(n.teeth, n.factor, twist - n.half, turning) - flank(n.teeth, n.factor, -twist - n.half, -turning);
    twist = q1 - n.pair_ratio * q4;
    turning = w1 - n.pair_ratio * w4;
    const double pair = flank(n.pair_teeth, n.pair_factor, twist - n.pair_half, turning) -
                        flank(n.pair_teeth, n.pair_factor, -twist - n.pair_half, -turning);
    const double shaft = n.shaft * (q2 - q3) + n.shaft_damping * (w2 - w3);
    const double mean = n.r3 * memory[1];
    const double load = n.law * (w3 * std::fabs(w3) + n.extra * std::fabs(mean) * (w3 - mean));
    const double step = n.cycle / nodes;
    const int place = static_cast<int>(angle / step);
    const double x = angle - place * step;
    const double* row = rows + 16 * (place % nodes);
    const double gas = cubic(row + 8, x) + memory[0] * cubic(row + 12, x);
    const double crank = gas - n.f0 - w0 * (n.f1 + w0 * n.f2) - 0.5 * cubic(row + 4, x) * w0 * w0 - sprung - n.d0;
    const double s = 1.0 / w0;
    rate = {s, (w1 - n.r1 * w0) * s, (w2 - n.r2 * w0) * s, (w3 - n.r3 * w0) * s, (w4 - n.r4 * w0) * s,
            crank / cubic(row, x) * s, (sprung - mesh - pair - n.d1) / n.j1 * s,
            (n.ratio * mesh - shaft - n.d2) / n.j2 * s, (shaft - load - n.d3) / n.j3 * s,
            (n.pair_ratio * pair - n.d4) / n.j4 * s};
    for (int i = 0; i < 10; ++i) rate[i] /= sizes[i];
  }

  // The slider goes on from where the step ends. The torque does not jump, so that the stepper may keep its derivative.
  void remember(const State& scaled) const {
    const double twist = -scaled[1] * sizes[1];
    memory[2] = slider(twist);
    memory[3] = twist;
  }
};

}  // namespace

// states: (looks + 1) x 10, the first is the start. Returns the steps taken, -1 where they are too many or not a number.
extern "C" long launch_cycle(const Numbers* numbers, const double* ramps, int ramp_count, const double* rows, int nodes,
                             const double* sizes, double tolerance, long most_steps, double* memory, int looks,
                             double* states) {
  namespace odeint = boost::numeric::odeint;
  const Launch launch{*numbers, ramps, ramp_count, rows, nodes, sizes, memory};
  auto stepper = odeint::make_dense_output(tolerance, tolerance, odeint::runge_kutta_dopri5<State>());
  State state;
  for (int i = 0; i < 10; ++i) state[i] = states[i] / sizes[i];
  stepper.initialize(state, 0.0, 1e-4);
  int look = 1;
  for (long step = 1; step <= most_steps; ++step) {
    stepper.do_step(std::cref(launch));
    if (!std::isfinite(stepper.current_state()[5])) return -1;
    for (; look <= looks && look * numbers->cycle / looks <= stepper.current_time(); ++look) {
      stepper.calc_state(look * numbers->cycle / looks, state);
      for (int i = 0; i < 10; ++i) states[10 * look + i] = state[i] * sizes[i];
    }
    launch.remember(look > looks ? state : stepper.current_state());
    if (look > looks) return step;
  }
  return -1;
}
