// The shape of the line that most builders have, known when the kernel is compiled: crank and flywheel, plate, gearbox
// input, unloaded pairs; in gear also the loaded mesh, the output, the shaft and the propeller.
#pragma once

#include <type_traits>

#include "calmshaft/model/model.hpp"

namespace calmshaft {

// Stations as assemble() numbers them: crank 0, input 1, output 2, propeller 3, then the unloaded pairs.
template <bool in_gear, int pairs>
struct DrivenLine {
  template <int n>
  using Count = std::integral_constant<int, n>;

  static constexpr Count<(in_gear ? 4 : 2) + pairs> stations{};
  static constexpr Count<in_gear ? 1 : 0> springs{};
  static constexpr Count<1> dampers{};
  static constexpr Count<(in_gear ? 1 : 0) + pairs> meshes{};
  static constexpr Count<in_gear ? 1 : 0> square_loads{};
  static constexpr Count<1 + pairs> drags{};

  static constexpr Ends spring_ends(int) { return {2, 3}; }
  static constexpr Ends damper_ends(int) { return {0, 1}; }
  static constexpr Ends mesh_ends(int i) {
    if (!in_gear) return {1, 2 + i};
    return i == 0 ? Ends{1, 2} : Ends{1, 3 + i};
  }
  static constexpr int square_load_station(int) { return 3; }
  static constexpr int drag_station(int i) { return i == 0 ? 1 : (in_gear ? 3 : 1) + i; }
};

}  // namespace calmshaft
