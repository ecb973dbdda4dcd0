#include "calmshaft/solve/linear_line.hpp"

namespace calmshaft {

LinearSystem linear_system(const LinearLine& line) {
  const auto stations = static_cast<int>(line.inertia.size());
  LinearAssembler assembler(stations);
  for (int station = 0; station < stations; ++station) {
    const auto at = static_cast<std::size_t>(station);
    assembler.add_inertia(station, line.inertia[at]);
    assembler.add_ground(station, line.ground_stiffness[at], line.ground_damping[at]);
  }
  for (const LinearJoint& joint : line.joints) {
    if (joint.rigid)
      assembler.add_rigid_gear(joint.from, joint.to, joint.ratio);
    else
      assembler.add_spring(joint.from, joint.to, joint.ratio, joint.stiffness, joint.damping);
  }
  for (const int station : line.fixed) assembler.fix(station);
  return assembler.system();
}

}  // namespace calmshaft
