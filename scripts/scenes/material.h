// What a surface point looks like: diffuse albedo, reflectance at normal incidence and roughness.
#pragma once
#include "litter.h"
#include "trace.h"

// Oxide colours of heated steel in the order they appear: plain, straw, bronze, purple, blue, pale.
HD Vec oxideColour(float x) {
    const Vec order[6] = {{1, 1, 1}, {0.95f, 0.78f, 0.42f}, {0.72f, 0.42f, 0.2f}, {0.5f, 0.26f, 0.45f}, {0.3f, 0.42f, 0.72f}, {0.62f, 0.74f, 0.78f}};
    float at = clampf(x, 0, 4.999f);
    int i = int(at);
    return lerp(order[i], order[i + 1], at - float(i));
}

HD Material metalAt(const Valve &v, Vec q) {
    const Metal &m = v.metal;
    Material out{m.diffuse, m.specular, m.rough, grey(0)};
    float mottle = fractal(q * m.mottleFreq, m.seed, kValueNoise, 3, 0.55f) - 0.5f;
    float level = clampf(1 + 2 * m.mottle * mottle, 0.15f, 2.0f);
    out.diffuse = out.diffuse * level;
    out.specular = out.specular * clampf(1 + m.mottle * mottle, 0.2f, 1.2f);
    out.rough = clampf(m.rough * (1 - 1.2f * m.mottle * mottle), 0.03f, 0.9f);
    if (m.grain > 0) {
        float speck = clampf(1 + 2 * m.grain * (latticeNoise(q * m.grainFreq, m.seed + 12, false) - 0.5f), 0.2f, 1.8f);
        out.diffuse = out.diffuse * speck;
        out.specular = out.specular * fminf(speck, 1.2f);
    }
    if (m.patina > 0) {
        float spots = uniformShare(noiseScore(q * m.patinaFreq, m.seed + 21, kValueNoise, 5));
        float dull = m.patina * smoothstep(0.2f, 0.8f, spots);
        out.specular = out.specular * (1 - 0.9f * dull);
        out.diffuse = lerp(out.diffuse, grey(0.02f), 0.7f * dull);
        out.rough = fminf(out.rough + 0.25f * dull, 0.9f);
    }
    if (m.heat > 0) {
        Vec oxide = oxideColour(m.heatStart + m.heatRange * meridian(v, q) + 1.5f * m.mottle * mottle);
        out.specular = out.specular * lerp(grey(1), oxide, m.heat);
        out.diffuse = out.diffuse * lerp(grey(1), oxide, m.heat);
    }
    if (m.turning > 0) {
        float line = latticeNoise(vec(0, 0, meridian(v, q) * m.turningFreq), m.seed + 5, false) - 0.5f;
        out.specular = out.specular * clampf(1 + 0.7f * m.turning * line, 0.3f, 1.3f);
        out.rough = clampf(out.rough * (1 + m.turning * line), 0.03f, 0.9f);
        out.lean = normalize(vec(-q.x, -q.y, sqrtf(q.x * q.x + q.y * q.y) + 1e-4f)) * (m.brush * line);
    }
    if (m.waves > 0) {
        Vec at = q * m.waveFreq;
        Vec dent = vec(latticeNoise(at, m.seed + 13, false), latticeNoise(at, m.seed + 14, false), latticeNoise(at, m.seed + 15, false));
        out.lean = out.lean + (dent - grey(0.5f)) * (2 * m.waves);
    }
    if (m.stain > 0) {
        Vec at = m.stainStreak > 0 ? streakPoint(v, q, 1.5f * m.stainFreq, m.stainStreak) : q * m.stainFreq;
        float on = m.stain * smoothstep(0.5f, 0.58f, fractal(at, m.seed + 8, kValueNoise, 4, 0.55f));
        out.specular = out.specular * lerp(grey(1), m.stainColour, on);
        out.diffuse = out.diffuse * lerp(grey(1), m.stainColour, on);
    }
    if (m.scratches > 0) {
        float mark = latticeNoise(streakPoint(v, q, 1.0f, 30.0f) + q * 0.5f, m.seed + 6, false);
        float on = smoothstep(0.72f, 0.8f, mark) * m.scratches;
        out.specular = lerp(out.specular, grey(0.75f), 0.6f * on);
        out.rough = lerp(out.rough, 0.25f, on);
    }
    return out;
}

HD void coatWithFilm(const Film &f, float tint, Material *m) {
    Vec through = lerp(grey(1), vec(sqrtf(f.colour.x), sqrtf(f.colour.y), sqrtf(f.colour.z)), clampf(1.6f * tint, 0, 1));
    m->specular = m->specular * through * (1 - 0.85f * tint) + grey(0.04f * tint);
    m->diffuse = lerp(m->diffuse * through, f.colour, tint * 0.8f);
    m->rough = lerp(m->rough, f.rough, 0.8f * tint);
}

// Grains and crystals: each has a facet of its own, which throws the lamp back where it happens to lie right.
HD void glint(const Crust &c, Vec q, uint32_t seed, Material *m) {
    Cells grain = cells(q * c.glintFreq, seed);
    if (unitOf(grain.id * 13u) > c.glints) return;
    m->lean = (vec(unitOf(grain.id), unitOf(grain.id << 8), unitOf(grain.id << 16)) - grey(0.5f)) * 1.7f;
    m->specular = grey(0.08f);
    m->rough = 0.2f;
}

HD Material crustMaterial(const Deposit &d, Vec q, float height) {
    const Crust &c = d.crust;
    float mottle = fractal(q * 3.1f, d.seed + 101, kValueNoise, 3, 0.6f);
    Material m{lerp(c.colourA, c.colourB, smoothstep(0.3f, 0.7f, mottle)), grey(0.035f), c.rough, grey(0)};
    float grain = fractal(q * c.grainFreq, d.seed + 107, kValueNoise, 2, 0.7f) - 0.5f;
    m.diffuse = m.diffuse * ((0.8f + 0.4f * clampf(height, 0, 1)) * clampf(1 + 2 * c.grain * grain, 0.3f, 2.0f));
    if (c.wetShare > 0) {
        float wet = shareRamp(uniformShare(noiseScore(q * c.wetFreq, d.seed + 103, d.basis, 3)), c.wetShare, 0.15f);
        m.diffuse = m.diffuse * (1 - 0.55f * wet);
        m.rough = lerp(m.rough, c.wetRough, wet);
        m.specular = lerp(m.specular, grey(0.05f), wet);
    }
    if (c.glints > 0) glint(c, q, d.seed + 109, &m);
    return m;
}

HD Material valveMaterial(const Valve &v, Vec q) {
    Material m = metalAt(v, q);
    Layer l = layerAt(v, q);
    if (l.tint > 0.01f) coatWithFilm(v.deposit.film, l.tint, &m);
    float cover = smoothstep(0.55f * kMediumFrom, 1.15f * kMediumFrom, l.thickness);
    if (cover <= 0) return m;
    float outer = bareValveDistance(v, q);  // how high this point stands over the metal
    const Coat &coat = v.deposit.coat;
    // Where a coat is even its height tells nothing but how exactly the ray has hit it.
    Material c = crustMaterial(v.deposit, q, coat.thickness > 0 ? 0.5f : outer / (2 * l.thickness + 1e-4f));
    if (coat.thickness > 0) c.diffuse = c.diffuse * lerp(coat.fracture, 1.0f, smoothstep(0.5f, 0.85f, l.thickness / coat.thickness));
    return Material{lerp(m.diffuse, c.diffuse, cover), lerp(m.specular, c.specular, cover), lerp(m.rough, c.rough, cover),
                    lerp(m.lean, c.lean, cover)};
}

HD Material surfaceMaterial(const Surface &s, Vec p) {
    float mottle = fractal(p * s.mottleFreq, s.seed, kValueNoise, 3, 0.6f);
    Material m{lerp(s.colourA, s.colourB, smoothstep(0.25f, 0.75f, mottle)), grey(s.specular), s.rough, grey(0)};
    if (s.grimeShare > 0) {
        float g = shareRamp(uniformShare(noiseScore(p * s.grimeFreq, s.seed + 1, kValueNoise, 4)), s.grimeShare, 0.2f);
        m.diffuse = lerp(m.diffuse, s.grime, 0.9f * g);
        m.specular = lerp(m.specular, grey(0.035f), g);
    }
    if (s.wetShare > 0) {
        float wet = shareRamp(uniformShare(noiseScore(p * 0.8f, s.seed + 2, kValueNoise, 2)), s.wetShare, 0.2f);
        m.rough = lerp(m.rough, 0.12f, wet);
        m.diffuse = m.diffuse * (1 - 0.4f * wet);
        m.specular = lerp(m.specular, m.specular + grey(0.04f), wet);
    }
    return m;
}

HD Material clutterMaterial(const Scene &s, Vec p) {
    int which = 0;
    clutterDistance(s, p, &which);
    const Solid &o = s.solids[which];
    Material m = surfaceMaterial(o.surface, p);
    if (o.pattern > 0) {
        Vec q = toSolid(o, p) * o.pattern;
        bool dark = (int(floorf(q.x)) + int(floorf(q.y))) & 1;
        if (dark) m.diffuse = lerp(m.diffuse, o.surface.grime, 0.8f);
    }
    return m;
}

HD Material wallMaterial(const Scene &s, Vec p) {
    const Port &port = s.port;
    bool plate = fabsf(dot(p - port.mouth, port.mouthNormal)) < 0.06f;
    return surfaceMaterial(plate ? port.flange : port.wall, p);
}

HD_ONCE Material materialAt(const Scene &s, int part, Vec p) {
    switch (part) {
    case kWall: return wallMaterial(s, p);
    case kSeat: return surfaceMaterial(s.port.ring, p);
    case kValve1: return valveMaterial(s.valves[0], toValve(s, 0, p));
    case kValve2: return valveMaterial(s.valves[1], toValve(s, 1, p));
    case kTool: return surfaceMaterial(s.tool.surface, p);
    case kGuide: {
        Material grimy = surfaceMaterial(s.port.ring, p);
        Material bare{s.port.guideDiffuse, s.port.guideSpecular, s.port.guideRough, grey(0)};
        return s.port.ringGrime > 0.6f ? Material{lerp(bare.diffuse, grimy.diffuse, 0.8f), grimy.specular, grimy.rough, grey(0)} : bare;
    }
    default: return clutterMaterial(s, p);
    }
}
