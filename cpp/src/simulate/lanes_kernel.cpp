// The integration of eight sweep points, as many at a time as the registers hold. This file is compiled once for each
// instruction set, with ISA naming it; everything that differs lives in the namespace of that name, so that the linker
// can never put one set's function in another's place. See DEVELOPERS.md, "Three instruction sets in one wheel".
#ifndef ISA
#error "ISA must name the instruction set"
#endif

#include <algorithm>

#include "lanes_leapfrog.hpp"
#include "lanes_runge_kutta.hpp"

namespace calmshaft::lanes::ISA {

// Everything inlined: functions that are called cannot keep packs in registers.
template <class Method>
__attribute__((flatten)) void run_inlined(CycleJob<Octet>& job, Slice slice) {
  typename Method::Model model;
  Workspace<Pack> work;
  CycleMeter<Pack> meter;
  Method(job, slice, model, work, meter).run();
}

template <class Shape>
constexpr std::size_t state_size_of = 2 * Shape::stations + 2 + Shape::springs + 2 * Shape::dampers +
                                      2 * Shape::meshes + Shape::square_loads + Shape::drags;

// True where the job's line has this shape and has been run by the method of that shape.
template <class Method, class Shape>
bool run_shaped(CycleJob<Octet>& job, Slice slice) {
  if (!have_same_joints(job.model, Shape{})) return false;
  run_inlined<Method>(job, slice);
  return true;
}

template <int pieces>
bool leap(CycleJob<Octet>& job, Slice slice) {
  using Shape = DrivenLine<pieces, 1>;
  return run_shaped<Leapfrog<Shape, Shape::stations>, Shape>(job, slice);
}

template <int pieces>
bool step_classically(CycleJob<Octet>& job, Slice slice) {
  using Shape = DrivenLine<pieces, 1>;
  return run_shaped<RungeKutta<Shape, state_size_of<Shape>>, Shape>(job, slice);
}

// Lines of other shapes in arrays that are not much larger than they are.
void run_leapfrog(CycleJob<Octet>& job, Slice slice) {
  if (leap<0>(job, slice) || leap<1>(job, slice) || leap<2>(job, slice) || leap<4>(job, slice) || leap<8>(job, slice))
    return;
  if (job.model.stations <= 8) return run_inlined<Leapfrog<AnyShape, 8>>(job, slice);
  run_inlined<Leapfrog<AnyShape, most_stations>>(job, slice);
}

void run_runge_kutta(CycleJob<Octet>& job, Slice slice) {
  if (step_classically<0>(job, slice) || step_classically<1>(job, slice)) return;
  if (job.model.state_size() <= 32) return run_inlined<RungeKutta<AnyShape, 32>>(job, slice);
  run_inlined<RungeKutta<AnyShape, most_state>>(job, slice);
}

void run_cycle(CycleJob<Octet>& job) {
  for (int first = 0; first < lane_count; first += pack_width) {
    if (std::none_of(job.in_use + first, job.in_use + first + pack_width, [](bool used) { return used; })) continue;
    const Slice slice{first};
    job.method == Method::leapfrog ? run_leapfrog(job, slice) : run_runge_kutta(job, slice);
  }
}

}  // namespace calmshaft::lanes::ISA
