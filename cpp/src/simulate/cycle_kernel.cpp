#include "calmshaft/simulate/cycle_job.hpp"

namespace calmshaft {

namespace lanes {
namespace base {
void run_cycle(CycleJob<Quad>& job);
}
#ifdef CALMSHAFT_AVX2
namespace avx2 {
void run_cycle(CycleJob<Quad>& job);
}
#endif
}  // namespace lanes

CycleKernel cycle_kernel() {
#ifdef CALMSHAFT_AVX2
  static const bool has_avx2 = __builtin_cpu_supports("avx2");
  if (has_avx2) return lanes::avx2::run_cycle;
#endif
  return lanes::base::run_cycle;
}

}  // namespace calmshaft
