// As many sweep points side by side as the registers of an instruction set hold. Only for lanes_kernel.cpp, which
// defines ISA.
#pragma once

#include <cstring>

#if defined(__AVX__)
#include <immintrin.h>
#endif

#include "calmshaft/simulate/cycle_job.hpp"

namespace calmshaft::lanes::ISA {

#if defined(__AVX512F__)
inline constexpr int pack_width = 8;
#elif defined(__AVX__)
inline constexpr int pack_width = 4;
#else
inline constexpr int pack_width = 2;  // SSE2 and NEON; wider packs would be taken apart, and take minutes to compile
#endif

struct alignas(8 * pack_width) Pack {
  typedef double Vector __attribute__((vector_size(8 * pack_width)));
  Vector v;

  Pack() = default;
  Pack(Vector vector) : v(vector) {}
  Pack(double value) : v(Vector{} + value) {}

  friend Pack operator+(Pack a, Pack b) { return a.v + b.v; }
  friend Pack operator-(Pack a, Pack b) { return a.v - b.v; }
  friend Pack operator*(Pack a, Pack b) { return a.v * b.v; }
  friend Pack operator/(Pack a, Pack b) { return a.v / b.v; }
  Pack operator-() const { return -v; }
};

// One instruction each, with the same answer to NaN: the second value.
#if defined(__AVX512F__)
// Masked, with all lanes in the mask: g++ 12 warns without cause of the plain ones.
inline Pack larger(Pack a, Pack b) { return _mm512_maskz_max_pd(0xff, a.v, b.v); }
inline Pack smaller(Pack a, Pack b) { return _mm512_maskz_min_pd(0xff, a.v, b.v); }
#elif defined(__AVX__)
inline Pack larger(Pack a, Pack b) { return _mm256_max_pd(a.v, b.v); }
inline Pack smaller(Pack a, Pack b) { return _mm256_min_pd(a.v, b.v); }
#else
inline Pack larger(Pack a, Pack b) { return a.v > b.v ? a.v : b.v; }
inline Pack smaller(Pack a, Pack b) { return a.v < b.v ? a.v : b.v; }
#endif
inline Pack where_positive(Pack test, Pack a, Pack b) { return test.v > Pack{}.v ? a.v : b.v; }
inline Pack limited(Pack a, Pack low, Pack high) { return smaller(larger(a, low), high); }
inline Pack magnitude(Pack a) {
  typedef long long Bits __attribute__((vector_size(8 * pack_width)));
  return reinterpret_cast<Pack::Vector>(reinterpret_cast<Bits>(a.v) & 0x7fffffffffffffff);
}

inline bool any_positive(Pack a) {
#if defined(__AVX512F__)
  return _mm512_cmp_pd_mask(a.v, _mm512_setzero_pd(), _CMP_GT_OQ) != 0;
#elif defined(__AVX__)
  return _mm256_movemask_pd(_mm256_cmp_pd(a.v, _mm256_setzero_pd(), _CMP_GT_OQ)) != 0;
#else
  bool any = false;
  for (int i = 0; i < pack_width; ++i) any = any || a.v[i] > 0;
  return any;
#endif
}

// The lanes that a kernel works on at a time, and their way in and out of a job.
struct Slice {
  int first;

  void copy(const Octet& from, Pack& to) const { std::memcpy(&to, from.lane + first, sizeof to); }
  void copy(const Pack& from, Octet& to) const { std::memcpy(to.lane + first, &from, sizeof from); }
  auto copier() const {
    return [this](const auto& from, auto& to) { copy(from, to); };
  }
};

}  // namespace calmshaft::lanes::ISA
