#include "calmshaft/solve/modes.hpp"

#include <Eigen/Cholesky>
#include <Eigen/Eigenvalues>
#include <algorithm>
#include <cmath>
#include <complex>
#include <limits>
#include <tuple>
#include <vector>

#include "calmshaft/core/errors.hpp"

namespace calmshaft {
namespace {

using Eigen::Index;
using Eigen::MatrixXd;
using Eigen::VectorXcd;
using Eigen::VectorXd;

// The system in coordinates that keep massless stations apart: q = placement * [heavy; light], where
// `light` is the departure of the massless stations from where the springs alone would hold them.
// Stiffness then does not couple the two parts (static condensation, exact for zero inertia).
struct Condensed {
  MatrixXd inertia;          // [kg m^2] heavy
  MatrixXd stiffness;        // [N m/rad] heavy
  MatrixXd light_stiffness;  // [N m/rad]
  MatrixXd damping;          // [N m s/rad] heavy, then light
  MatrixXd placement;        // [-] (coordinate, heavy then light)

  Index heavy() const { return inertia.rows(); }
  Index light() const { return light_stiffness.rows(); }
};

Condensed condense(const LinearSystem& system) {
  std::vector<Index> heavy, light;
  for (Index i = 0; i < system.inertia.rows(); ++i)
    (system.inertia.row(i).isZero(0.0) ? light : heavy).push_back(i);
  if (heavy.empty()) throw SolveError("modes: no free station has inertia; give at least one");
  const auto heavies = static_cast<Index>(heavy.size());
  const auto lights = static_cast<Index>(light.size());

  Condensed result;
  result.inertia = system.inertia(heavy, heavy);
  result.stiffness = system.stiffness(heavy, heavy);
  result.light_stiffness = system.stiffness(light, light);
  result.placement = MatrixXd::Zero(heavies + lights, heavies + lights);
  for (Index i = 0; i < heavies; ++i) result.placement(heavy[static_cast<std::size_t>(i)], i) = 1.0;
  for (Index i = 0; i < lights; ++i) result.placement(light[static_cast<std::size_t>(i)], heavies + i) = 1.0;

  if (lights > 0) {
    const Eigen::LDLT<MatrixXd> solver(result.light_stiffness);
    if (!solver.isPositive() || solver.rcond() < std::numeric_limits<double>::epsilon())
      throw SolveError(
          "modes: a station without inertia is held by no spring; give it an inertia or a stiffness");
    const MatrixXd coupling = system.stiffness(light, heavy);
    const MatrixXd follow = -solver.solve(coupling);
    result.stiffness += coupling.transpose() * follow;
    result.placement(light, Eigen::seqN(0, heavies)) = follow;
  }
  result.damping = result.placement.transpose() * system.damping * result.placement;
  return result;
}

struct UndampedModes {
  VectorXd angular_frequency;  // [rad/s]
  MatrixXd vectors;            // (heavy, mode), vectors^T inertia vectors = 1
  Index rigid;                 // how many do not twist the line
};

UndampedModes undamped_modes(const Condensed& line) {
  if (Eigen::LLT<MatrixXd>(line.inertia).info() != Eigen::Success)
    throw SolveError("modes: the inertia matrix is not positive; every inertia must be zero or more");
  const Eigen::GeneralizedSelfAdjointEigenSolver<MatrixXd> solver(line.stiffness, line.inertia);
  if (solver.info() != Eigen::Success) throw SolveError("modes: the natural frequencies did not converge");

  VectorXd squares = solver.eigenvalues();
  const double rounding = 64.0 * static_cast<double>(squares.size()) *
                          std::numeric_limits<double>::epsilon() * squares.maxCoeff();
  const Index rigid = (squares.array() <= rounding).count();
  squares.head(rigid).setZero();
  return {squares.cwiseSqrt(), solver.eigenvectors(), rigid};
}

// Motion y of massless, damped stations: relaxation y' + y + coupling^T h' = 0, h the modal coordinates.
struct Relaxation {
  VectorXd time;      // [s] damping over stiffness
  MatrixXd coupling;  // (mode, y)
};

Relaxation relaxation(const Condensed& line, const MatrixXd& vectors) {
  if (line.light() == 0) return {VectorXd(0), MatrixXd(vectors.cols(), 0)};
  const auto heavy = Eigen::seqN(0, line.heavy());
  const auto light = Eigen::seqN(line.heavy(), line.light());
  const Eigen::GeneralizedSelfAdjointEigenSolver<MatrixXd> solver(line.damping(light, light),
                                                                  line.light_stiffness);
  const double rounding = 1e-12 * std::max(0.0, solver.eigenvalues().maxCoeff());
  const Index damped = (solver.eigenvalues().array() > rounding).count();
  return {solver.eigenvalues().tail(damped),
          vectors.transpose() * line.damping(heavy, light) * solver.eigenvectors().rightCols(damped)};
}

// First-order form of h'' + D h' + E y' + w^2 h = 0, E the coupling, with y' from the relaxation.
// The angles of rigid modes act on nothing and are left out, which also keeps a double pole at zero
// (where rounding would be magnified to its square root) out of the matrix.
MatrixXd state_matrix(const Condensed& line, const UndampedModes& modes) {
  const auto heavy = Eigen::seqN(0, line.heavy());
  const Relaxation massless = relaxation(line, modes.vectors);
  const MatrixXd rate = massless.time.cwiseInverse().asDiagonal();  // [1/s]
  const VectorXd frequency = modes.angular_frequency.tail(modes.vectors.cols() - modes.rigid);
  const MatrixXd damping = modes.vectors.transpose() * line.damping(heavy, heavy) * modes.vectors;

  const Index n = modes.vectors.cols(), elastic = frequency.size(), damped = rate.rows();
  MatrixXd state = MatrixXd::Zero(elastic + n + damped, elastic + n + damped);  // elastic h, all h', y
  const Index elastic_speed = elastic + modes.rigid;  // h' of the first elastic mode
  state.block(0, elastic_speed, elastic, elastic).setIdentity();
  state.block(elastic_speed, 0, elastic, elastic).diagonal() = -frequency.cwiseAbs2();
  state.block(elastic, elastic, n, n) = massless.coupling * rate * massless.coupling.transpose() - damping;
  state.block(elastic, elastic + n, n, damped) = massless.coupling * rate;
  state.block(elastic + n, elastic, damped, n) = -rate * massless.coupling.transpose();
  state.bottomRightCorner(damped, damped) = -rate;
  return state;
}

VectorXcd sorted_poles(const MatrixXd& state) {
  const Eigen::EigenSolver<MatrixXd> solver(state, false);
  if (solver.info() != Eigen::Success) throw SolveError("modes: the damped poles did not converge");
  VectorXcd poles = solver.eigenvalues();
  const double rounding = 1e-11 * poles.cwiseAbs().maxCoeff();
  for (auto& pole : poles)
    if (std::abs(pole) < rounding) pole = 0.0;
  const auto place = [](const std::complex<double>& pole) {
    return std::make_tuple(std::fabs(pole.imag()), pole.real(), pole.imag());
  };
  std::sort(poles.begin(), poles.end(), [&](const auto& a, const auto& b) { return place(a) < place(b); });
  return poles;
}

MatrixXd station_shapes(const LinearSystem& system, const Condensed& line, const MatrixXd& vectors) {
  MatrixXd shapes = system.expansion * line.placement.leftCols(line.heavy()) * vectors;
  for (auto shape : shapes.colwise()) {
    Index largest = 0;
    shape.cwiseAbs().maxCoeff(&largest);
    shape /= double{shape(largest)};
  }
  return shapes;
}

}  // namespace

Modes modes(const LinearSystem& system) {
  const Condensed line = condense(system);
  const UndampedModes undamped = undamped_modes(line);
  return {undamped.angular_frequency, station_shapes(system, line, undamped.vectors),
          sorted_poles(state_matrix(line, undamped))};
}

}  // namespace calmshaft
