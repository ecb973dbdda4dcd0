// The shape of the line that most builders have, known when the kernel is compiled: crank and flywheel, plate, gearbox
// input, unloaded pairs; in gear also the loaded mesh, the output, the shaft in a few pieces and the propeller.
#pragma once

#include <type_traits>

#include "calmshaft/model/model.hpp"

namespace calmshaft {

// Stations as assemble() numbers them: crank 0, input 1, output 2, the ends of the shaft's pieces from 3 to the
// propeller, then the unloaded pairs. `pieces` of the shaft, 0 in neutral.
template <int pieces, int pairs>
struct DrivenLine {
  template <int n>
  using Count = std::integral_constant<int, n>;

  static constexpr bool in_gear = pieces > 0;
  static constexpr int propeller = 2 + pieces, last_before_pairs = in_gear ? propeller : 1;
  static constexpr Count<last_before_pairs + 1 + pairs> stations{};
  static constexpr Count<pieces> springs{};
  static constexpr Count<1> dampers{};
  static constexpr Count<(in_gear ? 1 : 0) + pairs> meshes{};
  static constexpr Count<in_gear ? 1 : 0> square_loads{};
  static constexpr Count<1 + pairs> drags{};

  static constexpr Ends spring_ends(int i) { return {2 + i, 3 + i}; }
  static constexpr Ends damper_ends(int) { return {0, 1}; }
  static constexpr Ends mesh_ends(int i) {
    if (!in_gear) return {1, 2 + i};
    return i == 0 ? Ends{1, 2} : Ends{1, propeller + i};
  }
  static constexpr int square_load_station(int) { return propeller; }
  static constexpr int drag_station(int i) { return i == 0 ? 1 : last_before_pairs + i; }
};

}  // namespace calmshaft
