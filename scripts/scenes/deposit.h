// Where the deposit lies and how thick: the thickness field of the crust, the tint field of the film, and what cleaning
// leaves of both. Local frame of the valve.
#pragma once
#include "coat.h"
#include "relief.h"

// Class limits on a 6 mm stem: crust from 0.055 mm, heavy crust from 0.43 mm.
constexpr float kMediumFrom = 0.055f / 6.0f;
constexpr float kHeavyFrom = 0.43f / 6.0f;
constexpr float kFilmFrom = 0.13f;  // tint strength below which nobody would call it a film

enum DepositClass { kBare, kFilm, kMedium, kHeavy, kNotValve = 255 };

HD float placeBias(const Valve &v, Vec q) {
    const Deposit &d = v.deposit;
    float m = meridian(v, q), rho = sqrtf(q.x * q.x + q.y * q.y) + 1e-6f;
    float side = (q.x * cosf(d.sideAngle) + q.y * sinf(d.sideAngle)) / rho;
    return d.side * side + d.fillet * (smoothstep(0.25f, 0.7f, m) - smoothstep(0.9f, 1.3f, m) - 0.3f) +
           d.stem * (smoothstep(0.8f, 1.1f, m) - 0.3f) + d.rim * (1 - smoothstep(0.05f, 0.3f, m) - 0.3f);
}

struct Layer {
    float thickness;  // crust without its fine relief: what the class is drawn on
    float tint;       // film strength 0..1
};

// What a tool dragged over the deposit leaves of it: lanes, broken where the tool jumped.
HD_ONCE float scrapedShare(const Deposit &d, float reach, Vec q) {
    float left = 1, tremble = latticeNoise(q * 2.3f, d.seed + 211, false);
    for (int i = 0; i < d.scrapes; i++) {
        uint32_t h = cellHash(i, 5, 9, d.seed + 213);
        Vec across = normalize(vec(unitOf(h) - 0.5f, unitOf(h * 3u) - 0.5f, unitOf(h * 7u) - 0.5f));
        float width = 0.02f + 0.1f * unitOf(h * 11u), middle = (unitOf(h * 13u) - 0.5f) * 1.4f * reach;
        float off = fabsf(dot(q, across) - middle + 0.15f * (tremble - 0.5f));
        float jump = smoothstep(0.3f, 0.4f, latticeNoise(q * 0.9f, d.seed + 217 + i, false));
        left = fminf(left, 1 - d.scrapeDepth * jump * (1 - smoothstep(width, width + 0.015f, off)));
    }
    return left;
}

HD bool isWorkedOn(const Deposit &d) { return d.method != kNone || d.scrapes > 0; }

// Share of crust (first) and film (second) that cleaning and tools leave at q.
HD void residue(const Valve &v, Vec q, float *crust, float *film) {
    const Deposit &d = v.deposit;
    float m = meridian(v, q), a = 1, b = 1;
    float patch = uniformShare(noiseScore(q * 1.6f, d.seed + 91, d.basis, 3));
    if (d.method == kBlast) {
        a = patch > 0.985f ? 0.3f : 0.0f;
        b = 0;
    } else if (d.method == kHand) {
        float corner = smoothstep(0.55f, 0.8f, m) * (1 - smoothstep(0.95f, 1.15f, m)) + smoothstep(1.6f, 2.2f, m);
        a = patch > 0.93f - 0.6f * clampf(corner, 0, 1) ? 0.7f : 0.0f;
        b = patch > 0.6f ? 0.6f : 0.25f;
    } else if (d.method == kWhip) {
        float rows = uniformShare(noiseScore(streakPoint(v, q, 1.5f, 9.0f), d.seed + 93, d.basis, 2));
        a = rows > 0.72f ? 0.55f : 0.0f;
        b = rows > 0.5f ? 0.7f : 0.2f;
    } else if (d.method == kSoak) {
        a = patch > 0.5f ? 0.6f : 0.0f;
        b = 0;
    }
    float scraped = d.scrapes > 0 ? scrapedShare(d, v.headRadius, q) : 1;
    *crust = lerp(1.0f, a, d.cleaning) * scraped;
    *film = lerp(1.0f, b, d.cleaning) * scraped;
}

HD float crumbThickness(const Deposit &d, Vec q) {
    if (d.crumbs <= 0) return 0;
    Cells c = cells(q * d.crumbFreq, d.seed + 31);
    float size = 0.2f + 0.25f * unitOf(c.id * 9u);
    if (unitOf(c.id * 3u) > d.crumbs || c.nearest > size) return 0;
    return d.crumbHeight * (1 - c.nearest * c.nearest / (size * size));
}

// Where crust grows first: the score of the noise with the bias of the place in it.
HD float crustScore(const Valve &v, Vec q) {
    const Deposit &d = v.deposit;
    Vec at = q * d.freq;
    if (d.streakAround > 0) at = streakPoint(v, q, d.streakAlong, d.streakAround) + q * (0.25f * d.freq);
    return noiseScore(at, d.seed, d.basis, d.octaves) + placeBias(v, q);
}

HD float crustField(const Deposit &d, float score) {
    return uniformShare(score / sqrtf(1 + 0.4f * (d.side * d.side + d.fillet * d.fillet)));
}

HD_ONCE float grownThickness(const Valve &v, Vec q) {
    const Deposit &d = v.deposit;
    if (d.cover <= 0) return crumbThickness(d, q);
    float score = crustScore(v, q), field = crustField(d, score);
    float own = noiseScore(q * (0.8f * d.freq), d.seed + 17, d.basis, 3);
    if (d.peak > 0) {
        float edge = shareThreshold(d.cover), inside = clampf((field - edge) / (1.02f - edge), 0, 1);
        return fmaxf(d.peak * powPositive(inside, d.rise) * clampf(1 + 0.18f * own, 0.7f, 1.4f), crumbThickness(d, q));
    }
    float crust = shareRamp(field, d.cover, d.soft);
    float thick = 0;
    if (d.heavy > 0 && crust > 0) {
        float mix = (1 - d.heavyMix) * score + d.heavyMix * own;
        thick = shareRamp(uniformShare(1.15f * mix), d.heavy, d.heavySoft);
    }
    float medium = d.mediumThickness * clampf(1 + 0.22f * own, 0.5f, 1.6f);
    float h = crust * lerp(medium, d.heavyThickness * clampf(1 + 0.18f * own, 0.7f, 1.5f), thick);
    return fmaxf(h, crumbThickness(d, q));
}

HD float crustThickness(const Valve &v, Vec q) { return fmaxf(grownThickness(v, q), coatThickness(v, q)); }

HD float filmTint(const Valve &v, Vec q) {
    const Film &f = v.deposit.film;
    if (f.cover <= 0 && f.fringe <= 0) return 0;
    Vec at = f.stretch > 0 ? streakPoint(v, q, 1.2f, f.stretch) : q * f.freq;
    float score = noiseScore(at, v.deposit.seed + 53, v.deposit.basis, 4);
    float mottle = 0.75f + 0.5f * fractal(q * (4 * f.freq), v.deposit.seed + 59, kValueNoise, 2, 0.6f);
    float strength = f.cover > 0 ? shareRamp(uniformShare(0.9f * score + 0.5f * placeBias(v, q)), f.cover, f.soft) : 0;
    if (f.fringe > 0) {
        float edge = shareThreshold(v.deposit.cover), field = crustField(v.deposit, crustScore(v, q));
        strength = fmaxf(strength, smoothstep(edge - f.fringe, edge - 0.3f * f.fringe, field));
    }
    return clampf(f.opacity * mottle, 0, 1) * strength;
}

HD Layer layerAt(const Valve &v, Vec q) {
    Layer l{crustThickness(v, q), filmTint(v, q)};
    if (isWorkedOn(v.deposit)) {
        float crust, film;
        residue(v, q, &crust, &film);
        l.thickness *= crust;
        l.tint *= film;
    }
    return l;
}

HD int depositClass(Layer l) {
    if (l.thickness >= kHeavyFrom) return kHeavy;
    if (l.thickness >= kMediumFrom) return kMedium;
    return l.tint >= kFilmFrom ? kFilm : kBare;
}

// Thickness of the crust at q after cleaning.
HD float remainingCrust(const Valve &v, Vec q) {
    float h = crustThickness(v, q);
    if (h > 0 && isWorkedOn(v.deposit)) {
        float crust, film;
        residue(v, q, &crust, &film);
        h *= crust;
    }
    return h;
}

// Relief as a share of the thickness h. Thin crust can be as rugged as thick crust.
HD float reliefShare(const Crust &c, float h) { return lerp(c.thinRelief, c.reliefAmp, smoothstep(0.03f, 0.09f, h)); }

// Height of the surface over the metal where the crust is h thick: its relief follows the thickness that it grows on.
HD_ONCE float roughHeight(const Valve &v, Vec q, float h) {
    const Deposit &d = v.deposit;
    if (h < 1e-4f) return 0;
    // Thin crust tends to be fine-grained, thick crust lumpy.
    float freq = d.crust.reliefFreq * (h < 0.05f ? d.crust.fineness : 1.0f);
    float r = crustRelief(d.crust.relief, q * freq, streakPoint(v, q, 0.35f * freq, 1.25f * freq), d.seed + 71);
    return clampf(h * (1 + reliefShare(d.crust, h) * clampf(r, -1.2f, 1.2f)), 0, d.maxThickness);
}

// Away from the surface a field is not worth evaluating: keeping clear of its highest lump is enough.
HD_ONCE float valveDistance(const Valve &v, Vec q) {
    constexpr float margin = 0.03f;
    float bare = bareValveDistance(v, q), top = v.deposit.maxThickness;
    if (bare > top + margin) return bare - top;
    if (bare < -0.05f) return bare;
    float h = remainingCrust(v, q), highest = fminf(h * (1 + 1.2f * reliefShare(v.deposit.crust, h)), top);
    // Half of it, because the crust beside q may be thicker.
    if (bare > highest + 2 * margin) return 0.5f * (bare - highest);
    return 0.65f * (bare - roughHeight(v, q, h));
}
