// Multiplications and additions as fast as one core does them without fused instructions: independent chains in registers.
// peak.py compiles it with -ffp-contract=off, as calmshaft is.

typedef double Pack __attribute__((vector_size(32)));

extern "C" double multiply_and_add(long rounds, double factor, double term) {
  constexpr int chains = 12;  // more than latency x width asks for, and all fit into sixteen registers
  Pack x[chains];
  for (int i = 0; i < chains; ++i) x[i] = Pack{1.0 + i, 1.1 + i, 1.2 + i, 1.3 + i};
  const Pack a{factor, factor, factor, factor}, b{term, term, term, term};
  for (long round = 0; round < rounds; ++round) {
#pragma GCC unroll 12
    for (int i = 0; i < chains; ++i) x[i] = x[i] * a + b;
  }
  Pack sum = x[0];
  for (int i = 1; i < chains; ++i) sum += x[i];
  return sum[0] + sum[1] + sum[2] + sum[3];
}
