// Seeded random numbers. Every part of a scene draws from its own stream, so a plan can change one part and keep the rest.
#pragma once
#include "vec.h"

HD uint64_t mix64(uint64_t x) {
    x += 0x9e3779b97f4a7c15ull;
    x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9ull;
    x = (x ^ (x >> 27)) * 0x94d049bb133111ebull;
    return x ^ (x >> 31);
}

HD uint32_t mix32(uint32_t x) {
    x = (x ^ (x >> 16)) * 0x7feb352du;
    x = (x ^ (x >> 15)) * 0x846ca68bu;
    return x ^ (x >> 16);
}

struct Random {
    uint64_t state;

    HD explicit Random(uint64_t seed) : state(mix64(seed)) {}
    HD uint32_t bits() { return uint32_t(mix64(state++) >> 32); }
    HD float unit() { return float(bits() >> 8) * (1.0f / 16777216.0f); }
    HD float range(float lo, float hi) { return lo + (hi - lo) * unit(); }
    HD float logRange(float lo, float hi) { return lo * expf(logf(hi / lo) * unit()); }
    HD int below(int n) { return int(unit() * float(n)) % n; }
    HD bool chance(float p) { return unit() < p; }
    // Sum of four uniforms: bell-shaped, standard deviation 1, never beyond 3.5.
    HD float bell() { return (unit() + unit() + unit() + unit() - 2.0f) * 1.7320508f; }
    HD Vec direction() {
        float z = range(-1, 1), a = range(0, 2 * kPi), r = sqrtf(fmaxf(0.0f, 1 - z * z));
        return vec(r * cosf(a), r * sinf(a), z);
    }
    // A grey of the given level shifted in colour by up to `spread`, relative.
    HD Vec tinted(float level, float spread) {
        return vec(level * (1 + spread * range(-1, 1)), level * (1 + 0.5f * spread * range(-1, 1)),
                   level * (1 + spread * range(-1, 1)));
    }
    HD Vec between(Vec a, Vec b) { return lerp(a, b, unit()); }
};
