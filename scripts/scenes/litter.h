// Loose things on level ground: grit, grains of blasting media, crumbs, and puddles of oil or solvent. They change what a surface
// looks like, not its shape.
#pragma once
#include "noise.h"
#include "scene.h"

struct Material {
    Vec diffuse, specular;
    float rough;
    Vec lean;  // added to the normal
};

struct Grain {
    Vec off;     // from the middle of the nearest grain, in its radii
    float away;  // length of it
    uint32_t id;
};

HD Grain nearestGrain(Vec p, float share, bool flakes, uint32_t seed) {
    float bx = floorf(p.x - 0.5f), by = floorf(p.y - 0.5f), bz = floorf(p.z - 0.5f);
    Grain g{grey(0), 9, 0};
    for (int k = 0; k < 8; k++) {
        float cx = bx + float(k & 1), cy = by + float((k >> 1) & 1), cz = bz + float(k >> 2);
        uint32_t h = cellHash(int(cx), int(cy), int(cz), seed);
        if (unitOf(h * 3u) > share) continue;
        float radius = 0.12f + 0.3f * unitOf(h * 7u) * unitOf(h * 11u);
        Vec off = (p - vec(cx + 0.2f + 0.6f * unitOf(h), cy + 0.2f + 0.6f * unitOf(h << 8), cz + 0.2f + 0.6f * unitOf(h << 16))) * (1 / radius);
        float away = flakes ? 0.7f * (fabsf(off.x) + fabsf(off.y) + fabsf(off.z)) : length(off);
        if (away < g.away) g = Grain{off, away, h};
    }
    return g;
}

HD void scatterGrains(const Litter &l, Vec p, float level, Material *m) {
    float heap = latticeNoise(p * 0.8f, l.seed, false) + 0.6f * (latticeNoise(p * 2.9f, l.seed + 1, false) - 0.5f);
    float share = l.grains * smoothstep(0.2f, 0.7f, level) * smoothstep(0.35f, 0.85f, heap);
    if (share < 0.002f) return;
    Grain g = nearestGrain(p * l.grainFreq, share, l.flakes, l.seed + 3);
    if (g.away < 1) {
        float shade = unitOf(g.id * 13u);
        Vec tilt = l.flakes ? (vec(unitOf(g.id), unitOf(g.id << 8), unitOf(g.id << 16)) - grey(0.5f)) * 0.8f : g.off * 0.9f;
        *m = Material{lerp(l.colourA, l.colourB, shade) * (0.6f + 0.8f * unitOf(g.id * 17u)), grey(shade > 0.8f ? 0.12f : 0.04f), 0.4f, tilt};
    } else if (g.away < 1.5f) {
        m->diffuse = m->diffuse * (2 * g.away - 2.0f);  // its shadow
    }
}

HD void pourPuddles(const Litter &l, Vec p, Vec n, float level, Material *m) {
    float depth = smoothstep(0.55f, 0.9f, level) - shareThreshold(l.puddle);
    depth += fractal(p * l.puddleFreq, l.seed + 5, kValueNoise, 2, 0.4f) - 0.5f;
    if (depth < 0) return;
    float film = smoothstep(0.0f, 0.06f, depth);
    Vec ripple = vec(latticeNoise(p * 1.7f, l.seed + 7, false), latticeNoise(p * 1.7f, l.seed + 8, false), latticeNoise(p * 1.7f, l.seed + 9, false));
    m->diffuse = m->diffuse * lerp(grey(1), l.liquid, film);
    m->specular = lerp(m->specular, grey(0.06f), film);
    m->rough = lerp(m->rough, 0.08f, film);
    m->lean = lerp(m->lean, l.up - n + (ripple - grey(0.5f)) * 0.25f, 0.9f * film);
}

HD_ONCE void addLitter(const Litter &l, Vec p, Vec n, Material *m) {
    float level = dot(n, l.up);
    if (l.puddle > 0 && level > 0.5f) pourPuddles(l, p, n, level, m);
    if (l.grains > 0 && level > 0.2f) scatterGrains(l, p, level, m);
}
