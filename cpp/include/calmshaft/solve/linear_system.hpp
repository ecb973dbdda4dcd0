// A line reduced to three matrices: inertia * q'' + damping * q' + stiffness * q = torque.
// Angles are in their own shaft's frame; rigid gears and fixed stations are already taken out.
#pragma once

#include <Eigen/Core>
#include <vector>

namespace calmshaft {

struct LinearSystem {
  Eigen::MatrixXd inertia;    // [kg m^2]
  Eigen::MatrixXd damping;    // [N m s/rad]
  Eigen::MatrixXd stiffness;  // [N m/rad]
  // [-] (station, coordinate): station angles = expansion * q; torques on q = expansion^T * station torques.
  Eigen::MatrixXd expansion;
};

// Collects a line station by station. Every call throws std::invalid_argument on a station that does
// not exist, a value that is negative or not finite, or a ratio that is zero.
class LinearAssembler {
 public:
  explicit LinearAssembler(int stations);

  void add_inertia(int station, double inertia);  // [kg m^2]

  // twist = angle(from) - ratio * angle(to); torque -k twist on `from`, +ratio k twist on `to`.
  // ratio [-], stiffness k [N m/rad] and damping [N m s/rad] at `from`.
  void add_spring(int from, int to, double ratio, double stiffness, double damping);

  // Spring and damper from a station to the ground [N m/rad], [N m s/rad].
  void add_ground(int station, double stiffness, double damping);

  // Teeth that neither bend nor open: angle(from) = ratio * angle(to). Either gear may be massless.
  void add_rigid_gear(int from, int to, double ratio);

  // Holds a station still, and all that rigid gears join to it.
  void fix(int station);

  // Throws std::invalid_argument when no station is free.
  LinearSystem system() const;

 private:
  // Stations joined by rigid gears turn together: angle(station) = factor * angle(leader).
  struct Follower {
    int leader;
    double factor;  // [-]
  };

  void check(const char* part, int station) const;
  Eigen::MatrixXd expansion() const;

  std::vector<Follower> followers_;
  std::vector<int> fixed_;
  Eigen::MatrixXd inertia_, damping_, stiffness_;  // [kg m^2], [N m s/rad], [N m/rad] of all stations
};

}  // namespace calmshaft
