// What is seen where a part's own material is not: soot on walls, the flange around an open port, the valve's bare places.
#pragma once
#include "material.h"

HD void coverWithSoot(const Soot &o, uint32_t seed, Vec p, bool close, Material *m) {
    float on = shareRamp(uniformShare(noiseScore(p * o.freq, seed + 21, kValueNoise, 3)), o.share, 0.15f);
    if (on <= 0) return;
    Vec colour = lerp(o.colourA, o.colourB, smoothstep(0.3f, 0.7f, fractal(p * 2.3f, seed + 22, kValueNoise, 3, 0.6f)));
    colour = colour * clampf(1 + 2 * o.grain * (latticeNoise(p * 14.0f, seed + 23, false) - 0.5f), 0.2f, 2.0f);
    if (close && o.glints > 0) {
        Cells c = cells(p * o.glintFreq, seed + 24);
        float crowd = o.glints * smoothstep(0.25f, 0.75f, latticeNoise(p * 0.9f, seed + 25, false));
        bool grain = unitOf(c.id * 3u) < crowd && c.nearest < 0.15f + 0.3f * unitOf(c.id * 5u);
        if (grain) colour = lerp(o.colourA, grey(1), 0.8f) * (o.glintLevel * (0.2f + unitOf(c.id * 7u)));
    }
    m->diffuse = lerp(m->diffuse, colour, on);
    m->specular = lerp(m->specular, grey(0.03f), on);
    m->rough = lerp(m->rough, o.rough, on);
}

HD void blend(Material *m, Vec diffuse, float specular, float rough, float on) {
    m->diffuse = lerp(m->diffuse, diffuse, on);
    m->specular = lerp(m->specular, grey(specular), on);
    m->rough = lerp(m->rough, rough, on);
}

// q: p in the runner's coordinates; edge: distance from the edge of the mouth.
HD Material flangeMaterial(const Scene &s, Vec p, Vec q, float edge) {
    const Mouth &m = s.mouth;
    uint32_t seed = s.port.seed + 40;
    int basis = s.family == 1 ? kGradientNoise : kValueNoise;
    Material x = surfaceMaterial(s.port.flange, p);
    Vec flat = vec(0.37f, q.y, q.z);
    if (m.milling > 0) {
        float line = latticeNoise(vec(length(vec(q.y + 11, q.z - 17, 0)) * m.millingFreq, 0, 0), seed, false) - 0.5f;
        x.rough = clampf(x.rough * (1 + 0.8f * m.milling * line), 0.08f, 0.9f);
        x.specular = x.specular * clampf(1 + m.milling * line, 0.3f, 1.5f);
    }
    float blotch = fractal(flat * m.stainFreq, seed + 1, basis, 4, 0.6f), soft = m.stainSoft;
    float fine = fractal(flat * (3.1f * m.stainFreq), seed + 2, basis, 3, 0.7f);
    float onA = m.stain * smoothstep(0.53f - soft, 0.53f + soft, blotch + 0.5f * (fine - 0.5f));
    blend(&x, m.stainA * (0.6f + 0.8f * fine), 0.04f, 0.6f, onA);
    blend(&x, m.stainB * (0.6f + 0.8f * blotch), 0.04f, 0.5f, m.stain * smoothstep(0.6f - soft, 0.6f + soft, fine));
    if (m.specks > 0) {
        float speck = latticeNoise(flat * 9.0f, seed + 3, false) + latticeNoise(flat * 21.0f, seed + 4, false) - 1;
        x.diffuse = x.diffuse * clampf(1 + 1.6f * m.specks * speck, 0.15f, 2.2f);
        x.specular = x.specular * clampf(1 + m.specks * speck, 0.3f, 1.6f);
    }
    float out = q.x - m.length;
    bool low = out < -0.6f * fmaxf(m.pad, 0.15f);  // cast ground of recess and casting, never machined
    if (low) blend(&x, lerp(m.stainA, m.stainB, fine), 0.05f, 0.7f, 0.75f);
    if (m.residueShare > 0 && !low && edge > m.residueFrom && edge < m.residueTo) {
        float left = 0.7f * m.residueShare + 0.3f - fine - 0.4f * blotch;
        blend(&x, m.residue * (0.7f + 0.6f * fine), 0.04f, 0.7f, 0.95f * smoothstep(-0.5f * soft, soft, left));
    }
    float off = fabsf(edge - m.grooveAt);
    if (m.grooveHalf > 0 && off < 0.95f * m.grooveHalf)
        blend(&x, m.seal > 0 ? m.sealColour * (0.8f + 0.4f * fine) : grey(0.02f), 0.04f, 0.45f, 0.95f);
    float near = 1 - smoothstep(0.2f, 1.0f, (edge + 0.8f * (blotch - 0.5f)) / m.sootReach);
    blend(&x, s.port.soot.colourA * (0.5f + fine), 0.03f, 0.8f, 0.9f * near);
    return x;
}

HD Material mouthWall(const Scene &s, Vec p, bool close, Material m) {
    const Mouth &o = s.mouth;
    Vec q = inRunner(o, p);
    float out = q.x - o.length;
    if (out > -1.2f) {
        float edge = sectionDistance(o, q.y, q.z, o.halfWide[1], o.halfHigh[1]);
        if (edge > -0.02f && out > flangeHeight(o, q.y, q.z, edge) - 0.12f) return flangeMaterial(s, p, q, edge);
    }
    coverWithSoot(s.port.soot, s.port.seed, p, close, &m);
    return m;
}

// Ground, bright and worn by its seat: the face, and the rim below it with what burning left there.
HD Material faceMaterial(const Valve &v, Vec q) {
    const Metal &k = v.metal;
    Material m{grey(0.12f), grey(0.5f), 0.28f, grey(0)};
    float line = latticeNoise(vec(q.x, q.y, 60 * q.z), k.seed + 31, false);
    float turn = fractal(vec(1.3f * q.x, 1.3f * q.y, 3 * q.z), k.seed + 32, kValueNoise, 3, 0.6f);
    m.rough = 0.22f + 0.2f * line;
    float worn = unitOf(k.seed), stain = worn * smoothstep(0.45f, 0.62f, turn);
    bool rim = q.z < -0.02f;
    if (rim && (k.seed & 1)) stain = fmaxf(stain, 0.85f * smoothstep(0.3f, 0.5f, turn));
    m.diffuse = lerp(m.diffuse, vec(0.10f, 0.07f, 0.05f), stain);
    m.specular = lerp(m.specular, vec(0.12f, 0.09f, 0.07f), stain);
    return m;
}

// Where the guide ran: polished, with varnish in streaks along the stem.
HD Material guideRunMaterial(const Valve &v, Vec q) {
    const Metal &k = v.metal;
    float streak = fractal(vec(3 * q.x, 3 * q.y, 0.25f * q.z), k.seed + 33, kValueNoise, 3, 0.6f);
    float fading = 1 - 0.5f * smoothstep(0.0f, 6.0f, q.z - v.guideFrom);
    float on = 0.9f * unitOf(k.seed * 5u) * smoothstep(0.42f, 0.6f, streak) * fading;
    Vec diffuse = lerp(grey(0.06f), vec(0.16f, 0.08f, 0.04f), on), specular = lerp(grey(0.55f), vec(0.2f, 0.11f, 0.06f), on);
    return Material{diffuse, specular, 0.16f + 0.2f * streak, grey(0)};
}

HD Material valveFinish(const Valve &v, Vec q, Material m) {
    float kept = depositKept(v, q);
    if (kept >= 1) return m;
    Material bare = q.z > v.guideFrom - 0.2f ? guideRunMaterial(v, q) : faceMaterial(v, q);
    return Material{lerp(bare.diffuse, m.diffuse, kept), lerp(bare.specular, m.specular, kept), lerp(bare.rough, m.rough, kept),
                    m.lean * kept};
}

// `close`: seen by the camera itself, so that fine grains are worth their cost.
HD_ONCE Material seenMaterial(const Scene &s, int part, Vec p, bool close) {
    Material m = materialAt(s, part, p);
    if (part == kValve1 || part == kValve2) {
        int i = part == kValve1 ? 0 : 1;
        return valveFinish(s.valves[i], toValve(s, i, p), m);
    }
    if (part == kWall && s.view == kMouth) return mouthWall(s, p, close, m);
    bool dirty = part == kWall || ((part == kSeat || part == kGuide) && s.port.ringGrime > 0.35f);
    bool flange = part == kWall && fabsf(dot(p - s.port.mouth, s.port.mouthNormal)) < 0.06f;
    if (dirty && !flange && s.port.soot.share > 0) coverWithSoot(s.port.soot, s.port.seed, p, close, &m);
    return m;
}
