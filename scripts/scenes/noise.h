// Procedural noise in space. All results lie in 0..1 with mean near 0.5 unless said otherwise.
#pragma once
#include "random.h"

enum NoiseBasis { kValueNoise, kBillowNoise, kGradientNoise, kRidgedNoise };  // the last two are held back for family 1

HD uint32_t cellHash(int x, int y, int z, uint32_t seed) {
    uint32_t h = uint32_t(x) * 0x8da6b343u ^ uint32_t(y) * 0xd8163841u ^ uint32_t(z) * 0xcb1ab31fu ^ seed;
    h = (h ^ (h >> 15)) * 0x2c1b3c6du;
    h = (h ^ (h >> 12)) * 0x297a2d39u;
    return h ^ (h >> 15);
}

HD float unitOf(uint32_t h) { return float(h >> 8) * (1.0f / 16777216.0f); }

HD float cornerValue(uint32_t h, float x, float y, float z, bool gradient) {
    if (!gradient) return unitOf(h);
    float u = (h & 8) ? y : x, v = (h & 4) ? z : ((h & 8) ? x : y);
    return 0.5f + 0.5f * (((h & 1) ? -u : u) + ((h & 2) ? -v : v));
}

HD_ONCE float latticeNoise(Vec p, uint32_t seed, bool gradient) {
    float fx = floorf(p.x), fy = floorf(p.y), fz = floorf(p.z);
    int ix = int(fx), iy = int(fy), iz = int(fz);
    float x = p.x - fx, y = p.y - fy, z = p.z - fz;
    float wx = x * x * (3 - 2 * x), wy = y * y * (3 - 2 * y), wz = z * z * (3 - 2 * z);
    float layer[2];
    for (int k = 0; k < 2; k++) {
        float row[2];
        for (int j = 0; j < 2; j++) {
            float a = cornerValue(cellHash(ix, iy + j, iz + k, seed), x, y - j, z - k, gradient);
            float b = cornerValue(cellHash(ix + 1, iy + j, iz + k, seed), x - 1, y - j, z - k, gradient);
            row[j] = lerp(a, b, wx);
        }
        layer[k] = lerp(row[0], row[1], wy);
    }
    return lerp(layer[0], layer[1], wz);
}

HD float octave(Vec p, uint32_t seed, int basis) {
    float n = latticeNoise(p, seed, basis == kGradientNoise || basis == kRidgedNoise);
    if (basis == kBillowNoise) return fabsf(2 * n - 1) * 1.1f;
    if (basis == kRidgedNoise) return 1 - fabsf(2 * n - 1) * 1.8f;
    return n;
}

// Sum of octaves, each twice as fine and `gain` as strong as the one before.
HD float fractal(Vec p, uint32_t seed, int basis, int octaves, float gain) {
    float sum = 0, weight = 1, total = 0;
    for (int i = 0; i < octaves; i++) {
        sum += weight * octave(p, seed + uint32_t(i) * 0x9e3779b9u, basis);
        total += weight;
        weight *= gain;
        p = vec(1.6f * p.x + 1.2f * p.y, 1.6f * p.y - 1.2f * p.x, 2.0f * p.z) + vec(7.3f, 1.9f, 4.1f);
    }
    return sum / total;
}

// Bends a bell-shaped score (mean 0, deviation about 1) to a uniform share 0..1, so a threshold on it is a covered share.
HD float uniformShare(float score) { return 1.0f / (1.0f + expf(-1.7f * clampf(score, -8.0f, 8.0f))); }

// A covered share c needs the threshold 1-c; the margin makes share 0 really empty and share 1 really full.
HD float shareThreshold(float share) { return 1.04f - 1.08f * share; }

HD float shareRamp(float field, float share, float soft) {
    float threshold = shareThreshold(share);
    return smoothstep(threshold, threshold + soft, field);
}

HD float noiseScore(Vec p, uint32_t seed, int basis, int octaves) {
    float mean = basis == kBillowNoise ? 0.33f : basis == kRidgedNoise ? 0.55f : 0.5f;
    float deviation = basis == kGradientNoise ? 0.11f : 0.14f;
    return (fractal(p, seed, basis, octaves, 0.5f) - mean) / deviation;
}

struct Cells {
    float nearest, second;  // distances to the two nearest cell points, in cells
    uint32_t id;            // hash of the nearest cell
};

// Cell noise over the 2x2x2 nearest cells: points are kept near their cell centres, which makes that search enough.
HD_ONCE Cells cells(Vec p, uint32_t seed) {
    float bx = floorf(p.x - 0.5f), by = floorf(p.y - 0.5f), bz = floorf(p.z - 0.5f);
    Cells c{9, 9, 0};
    for (int k = 0; k < 8; k++) {
        float cx = bx + float(k & 1), cy = by + float((k >> 1) & 1), cz = bz + float(k >> 2);
        uint32_t h = cellHash(int(cx), int(cy), int(cz), seed);
        Vec point = vec(cx + 0.2f + 0.6f * unitOf(h << 0), cy + 0.2f + 0.6f * unitOf(h << 8), cz + 0.2f + 0.6f * unitOf(h << 16));
        float d = length(p - point);
        if (d < c.nearest) {
            c.second = c.nearest;
            c.nearest = d;
            c.id = h;
        } else {
            c.second = fminf(c.second, d);
        }
    }
    return c;
}
