// One build of a loop for each vector width; without fused multiplications (cmake/house.cmake) all give the
// same bits. Tests build the drawing for one width at a time: SEATWRIGHT_ONE_WIDTH is then its target's name.
#pragma once

// Sanitizers know nothing of functions that are chosen when the program is loaded.
#if defined(__has_feature)
#if __has_feature(address_sanitizer) || __has_feature(thread_sanitizer)
#define SEATWRIGHT_SANITIZED 1
#endif
#elif defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
#define SEATWRIGHT_SANITIZED 1
#endif

#if defined(SEATWRIGHT_ONE_WIDTH)
#define SEATWRIGHT_VECTORS __attribute__((target(SEATWRIGHT_ONE_WIDTH)))
#elif defined(__x86_64__) && defined(__GNUC__) && !defined(SEATWRIGHT_SANITIZED)
#define SEATWRIGHT_VECTORS __attribute__((target_clones("avx512f", "avx2", "default")))
#define SEATWRIGHT_WIDE 1
#else
#define SEATWRIGHT_VECTORS
#endif

// Before a loop whose arrays do not overlap, which a compiler cannot see.
#if defined(__clang__)
#define SEATWRIGHT_APART _Pragma("clang loop vectorize(assume_safety)")
#elif defined(__GNUC__)
#define SEATWRIGHT_APART _Pragma("GCC ivdep")
#else
#define SEATWRIGHT_APART
#endif
