#include "seatwright/forecast/philox.hpp"

#include "seatwright/forecast/vectors.hpp"

#ifdef SEATWRIGHT_WIDE
#include <immintrin.h>
#endif

namespace seatwright::forecast {
namespace {

constexpr std::uint64_t m0 = 0xD2511F53, m1 = 0xCD9E8D57;
constexpr std::uint32_t w0 = 0x9E3779B9, w1 = 0xBB67AE85;
constexpr int rounds = 10;

struct Counters {
    std::uint64_t first;
    std::uint32_t group, k0, k1;
};

void plain(const Counters& of, Words& out) {
    for (std::size_t i = 0; i < lanes; ++i) {
        const std::uint64_t head = of.first + i;
        out.a[i] = static_cast<std::uint32_t>(head);
        out.b[i] = static_cast<std::uint32_t>(head >> 32);
        out.c[i] = of.group;
        out.d[i] = 0;
    }
    std::uint32_t k0 = of.k0, k1 = of.k1;
    for (int round = 0; round < rounds; ++round) {
        for (std::size_t i = 0; i < lanes; ++i) {
            const std::uint64_t p0 = m0 * out.a[i], p1 = m1 * out.c[i];
            const std::uint32_t b = out.b[i], d = out.d[i];
            out.a[i] = static_cast<std::uint32_t>(p1 >> 32) ^ b ^ k0;
            out.b[i] = static_cast<std::uint32_t>(p1);
            out.c[i] = static_cast<std::uint32_t>(p0 >> 32) ^ d ^ k1;
            out.d[i] = static_cast<std::uint32_t>(p0);
        }
        k0 += w0;
        k1 += w1;
    }
}

#ifdef SEATWRIGHT_WIDE

// Each word in the low half of 64 bits: the product needs no shuffling, and what is in the high halves is
// never asked for. Two (four) vectors at a time hide the time a product takes.
__attribute__((target("avx512f"))) void wide_512(const Counters& of, Words& out) {
    constexpr std::size_t at_once = 8, together = 4;
    const __m512i by0 = _mm512_set1_epi64(static_cast<long long>(m0)),
                  by1 = _mm512_set1_epi64(static_cast<long long>(m1)),
                  steps = _mm512_set_epi64(7, 6, 5, 4, 3, 2, 1, 0);
    for (std::size_t i = 0; i < lanes; i += at_once * together) {
        __m512i a[together], b[together], c[together], d[together];
        for (std::size_t v = 0; v < together; ++v) {
            a[v] = _mm512_add_epi64(_mm512_set1_epi64(static_cast<long long>(of.first + i + v * at_once)),
                                    steps);
            b[v] = _mm512_srli_epi64(a[v], 32);
            c[v] = _mm512_set1_epi64(of.group);
            d[v] = _mm512_setzero_si512();
        }
        std::uint32_t k0 = of.k0, k1 = of.k1;
        for (int round = 0; round < rounds; ++round, k0 += w0, k1 += w1) {
            const __m512i key0 = _mm512_set1_epi64(k0), key1 = _mm512_set1_epi64(k1);
            for (std::size_t v = 0; v < together; ++v) {
                const __m512i p0 = _mm512_mul_epu32(by0, a[v]), p1 = _mm512_mul_epu32(by1, c[v]);
                // 0x96: the three exclusive-or'ed.
                a[v] = _mm512_ternarylogic_epi64(_mm512_srli_epi64(p1, 32), b[v], key0, 0x96);
                c[v] = _mm512_ternarylogic_epi64(_mm512_srli_epi64(p0, 32), d[v], key1, 0x96);
                b[v] = p1;
                d[v] = p0;
            }
        }
        for (std::size_t v = 0; v < together; ++v) {
            const std::size_t at = i + v * at_once;
            const auto keep = [](std::uint32_t * to, __m256i low) __attribute__((target("avx512f"))) {
                _mm256_store_si256(reinterpret_cast<__m256i*>(to), low);
            };
            keep(&out.a[at], _mm512_cvtepi64_epi32(a[v]));
            keep(&out.b[at], _mm512_cvtepi64_epi32(b[v]));
            keep(&out.c[at], _mm512_cvtepi64_epi32(c[v]));
            keep(&out.d[at], _mm512_cvtepi64_epi32(d[v]));
        }
    }
}

__attribute__((target("avx2"))) inline void keep_low(std::uint32_t* to, __m256i one, __m256i other) {
    const __m256i order = _mm256_set_epi32(7, 5, 3, 1, 6, 4, 2, 0);
    const __m128i low = _mm256_castsi256_si128(_mm256_permutevar8x32_epi32(one, order)),
                  high = _mm256_castsi256_si128(_mm256_permutevar8x32_epi32(other, order));
    _mm_store_si128(reinterpret_cast<__m128i*>(to), low);
    _mm_store_si128(reinterpret_cast<__m128i*>(to + 4), high);
}

__attribute__((target("avx2"))) void wide_256(const Counters& of, Words& out) {
    constexpr std::size_t at_once = 4, together = 2;
    const __m256i by0 = _mm256_set1_epi64x(static_cast<long long>(m0)),
                  by1 = _mm256_set1_epi64x(static_cast<long long>(m1)), steps = _mm256_set_epi64x(3, 2, 1, 0);
    for (std::size_t i = 0; i < lanes; i += at_once * together) {
        __m256i a[together], b[together], c[together], d[together];
        for (std::size_t v = 0; v < together; ++v) {
            a[v] = _mm256_add_epi64(_mm256_set1_epi64x(static_cast<long long>(of.first + i + v * at_once)),
                                    steps);
            b[v] = _mm256_srli_epi64(a[v], 32);
            c[v] = _mm256_set1_epi64x(of.group);
            d[v] = _mm256_setzero_si256();
        }
        std::uint32_t k0 = of.k0, k1 = of.k1;
        for (int round = 0; round < rounds; ++round, k0 += w0, k1 += w1) {
            const __m256i key0 = _mm256_set1_epi64x(k0), key1 = _mm256_set1_epi64x(k1);
            for (std::size_t v = 0; v < together; ++v) {
                const __m256i p0 = _mm256_mul_epu32(by0, a[v]), p1 = _mm256_mul_epu32(by1, c[v]);
                a[v] = _mm256_xor_si256(_mm256_xor_si256(_mm256_srli_epi64(p1, 32), b[v]), key0);
                c[v] = _mm256_xor_si256(_mm256_xor_si256(_mm256_srli_epi64(p0, 32), d[v]), key1);
                b[v] = p1;
                d[v] = p0;
            }
        }
        keep_low(&out.a[i], a[0], a[1]);
        keep_low(&out.b[i], b[0], b[1]);
        keep_low(&out.c[i], c[0], c[1]);
        keep_low(&out.d[i], d[0], d[1]);
    }
}

using Way = void (*)(const Counters&, Words&);
Way widest() {
    __builtin_cpu_init();
    if (__builtin_cpu_supports("avx512f")) return wide_512;
    if (__builtin_cpu_supports("avx2")) return wide_256;
    return plain;
}

#endif

}  // namespace

void philox(std::uint64_t seed, std::uint64_t first, std::uint32_t group, Words& out) {
    const Counters of{first, group, static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32)};
#ifdef SEATWRIGHT_WIDE
    static const Way way = widest();
    way(of, out);
#else
    plain(of, out);
#endif
}

std::vector<bool> philox_ways_agree(std::uint64_t seed, std::uint64_t first, std::uint32_t group) {
    const Counters of{first, group, static_cast<std::uint32_t>(seed), static_cast<std::uint32_t>(seed >> 32)};
    Words wanted;
    plain(of, wanted);
    std::vector<bool> out;
    [[maybe_unused]] const auto same = [&](const Words& other) {
        out.push_back(wanted.a == other.a && wanted.b == other.b && wanted.c == other.c &&
                      wanted.d == other.d);
    };
#ifdef SEATWRIGHT_WIDE
    Words words;
    if (__builtin_cpu_supports("avx2")) {
        wide_256(of, words);
        same(words);
    }
    if (__builtin_cpu_supports("avx512f")) {
        wide_512(of, words);
        same(words);
    }
#endif
    return out;
}

}  // namespace seatwright::forecast
