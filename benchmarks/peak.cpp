// Multiplications and additions as fast as one core does them without fused instructions: independent chains in
// registers. peak.py compiles it with -ffp-contract=off, as calmshaft is, and with WIDTH numbers in a register.

typedef double Pack __attribute__((vector_size(8 * WIDTH)));

extern "C" double multiply_and_add(long rounds, double factor, double term) {
  constexpr int chains = 12;  // more than latency x width asks for, and all fit into sixteen registers
  Pack x[chains];
  for (int i = 0; i < chains; ++i)
    for (int lane = 0; lane < WIDTH; ++lane) x[i][lane] = 1.0 + i + 0.1 * lane;
  const Pack a = Pack{} + factor, b = Pack{} + term;
  for (long round = 0; round < rounds; ++round) {
#pragma GCC unroll 12
    for (int i = 0; i < chains; ++i) x[i] = x[i] * a + b;
  }
  double sum = 0.0;
  for (int i = 0; i < chains; ++i)
    for (int lane = 0; lane < WIDTH; ++lane) sum += x[i][lane];
  return sum;
}
