#include "calmshaft/simulate/cycle_job.hpp"

namespace calmshaft {

namespace lanes {
namespace base {
void run_cycle(CycleJob<Octet>& job);
}
#ifdef CALMSHAFT_X86
namespace avx2 {
void run_cycle(CycleJob<Octet>& job);
}
namespace avx512 {
void run_cycle(CycleJob<Octet>& job);
}
#endif
}  // namespace lanes

namespace {

std::vector<CycleKernel> runnable() {
  std::vector<CycleKernel> kernels;
#ifdef CALMSHAFT_X86
  if (__builtin_cpu_supports("avx512f") && __builtin_cpu_supports("avx512dq") && __builtin_cpu_supports("avx512vl"))
    kernels.push_back(lanes::avx512::run_cycle);
  if (__builtin_cpu_supports("avx2")) kernels.push_back(lanes::avx2::run_cycle);
#endif
  kernels.push_back(lanes::base::run_cycle);
  return kernels;
}

}  // namespace

const std::vector<CycleKernel>& cycle_kernels() {
  static const std::vector<CycleKernel> kernels = runnable();
  return kernels;
}

}  // namespace calmshaft
