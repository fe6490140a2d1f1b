// The shapes crust takes. Each returns a factor around 0, roughly -1..1, that the thickness is multiplied up or down by.
#pragma once
#include "noise.h"

enum Relief {
    kGranular, kCauliflower, kCracked, kCoarse, kTar, kVelvet, kRopes, kScale, kFlakes, kLumps, kLobes,  // family 0
    kWorms, kFoam, kPlates,                                                                              // held back for family 1
    kReliefCount
};

HD float domes(Vec p, uint32_t seed) {
    Cells c = cells(p, seed);
    return 1 - 2 * c.nearest * c.nearest * 1.6f;
}

HD float cracks(Vec p, uint32_t seed) {
    Cells c = cells(p, seed);
    return lerp(-1.0f, 0.35f + 0.3f * (unitOf(c.id) - 0.5f), smoothstep(0.02f, 0.14f, c.second - c.nearest));
}

HD float plates(Vec p, uint32_t seed) {
    Cells c = cells(p, seed);
    float tilt = (unitOf(c.id * 5u) - 0.5f) * (p.x - floorf(p.x)) + (unitOf(c.id * 11u) - 0.5f) * (p.y - floorf(p.y));
    return unitOf(c.id) - 0.5f + tilt - 0.6f * (1 - smoothstep(0.0f, 0.1f, c.second - c.nearest));
}

// Flakes with gaps between them, their edges curling up.
HD float flakes(Vec p, uint32_t seed) {
    Cells c = cells(p, seed);
    float border = c.second - c.nearest, lift = unitOf(c.id * 7u);
    return lerp(-1.0f, 1.1f * lift * (1 - smoothstep(0.05f, 0.45f, border)) - 0.1f, smoothstep(0.0f, 0.06f, border));
}

// Swollen scales that lie over each other.
HD float lobes(Vec p, uint32_t seed) {
    Vec bend = vec(latticeNoise(p * 1.3f, seed + 1, false), latticeNoise(p * 1.3f, seed + 2, false), latticeNoise(p * 1.3f, seed + 4, false));
    Cells c = cells(p + bend * 0.8f, seed);
    return unitOf(c.id) - 0.3f - 1.3f * c.nearest * c.nearest - 0.5f * (1 - smoothstep(0.0f, 0.12f, c.second - c.nearest));
}

HD float foam(Vec p, uint32_t seed) {
    Cells c = cells(p, seed);
    float edge = 0.25f + 0.2f * unitOf(c.id);
    return c.nearest < edge ? -0.9f + 0.9f * c.nearest / edge : 0.4f - 0.5f * (c.nearest - edge);
}

HD float crustRelief(int kind, Vec p, Vec streak, uint32_t seed) {
    switch (kind) {
    case kGranular: return 2.4f * (fractal(p, seed, kValueNoise, 4, 0.65f) - 0.5f);
    case kCauliflower: return 0.65f * domes(p * 0.6f, seed) + 0.35f * domes(p * 1.7f, seed + 7) - 0.2f;
    case kCracked: return cracks(p * 0.55f, seed) + 0.5f * (fractal(p * 2, seed + 3, kValueNoise, 2, 0.6f) - 0.5f);
    case kCoarse: return 1.3f * (unitOf(cells(p * 1.4f, seed).id) - 0.5f) + 0.5f * domes(p * 1.4f, seed);
    case kTar: return 1.6f * (fractal(p * 0.35f, seed, kValueNoise, 2, 0.4f) - 0.5f);
    case kVelvet: return 0.7f * (fractal(p * 3, seed, kValueNoise, 2, 0.8f) - 0.5f);
    case kRopes: return 2.2f * (fractal(streak, seed, kValueNoise, 3, 0.5f) - 0.5f);
    case kScale: {
        float n = 4 * fractal(p * 0.5f, seed, kValueNoise, 3, 0.5f);
        return 0.8f * (floorf(n) + smoothstep(0.75f, 1.0f, n - floorf(n)) - 1.6f);
    }
    case kFlakes: return flakes(p * 0.5f, seed);
    case kLumps: return 0.6f * domes(p * 0.5f, seed) + 1.4f * (fractal(p * 1.2f, seed + 5, kValueNoise, 3, 0.65f) - 0.5f);
    case kLobes: return lobes(p * 0.5f, seed);
    case kWorms: return 1.5f * (fractal(p * 0.8f, seed, kRidgedNoise, 3, 0.55f) - 0.55f);
    case kFoam: return foam(p, seed);
    default: return plates(p * 0.7f, seed);
    }
}
