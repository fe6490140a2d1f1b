// Draws the deposit of a valve: how much, where, how thick, and what it looks like.
#pragma once
#include "sample_coat.h"

struct Shares {
    float film, medium, heavy;
};

// Class shares for a wanted index: heavy + medium/2 + film/4 = index/100. Film first, as far as the index allows it, then
// any split of the rest into heavy and medium. A wanted film share below 0 leaves it to chance.
HD Shares drawShares(float index, float film, Random *r) {
    float t = index / 100, most = fminf(4 * t, (1 - t) / 0.75f);
    if (film < 0) film = r->chance(0.3f) ? 0 : most * r->unit();
    film = fminf(film, most);
    float rest = t - 0.25f * film;
    float heavy = r->range(fmaxf(0.0f, 2 * rest - (1 - film)), rest);
    return Shares{film, 2 * (rest - heavy), heavy};
}

HD Shares drawMix(const Recipe &recipe, Random *r) {
    if (recipe.index >= 0) return drawShares(recipe.index, recipe.filmShare, r);
    if (recipe.laden) return drawShares(r->range(18, 100), -1, r);
    if (recipe.dusky) return r->chance(0.6f) ? Shares{0, 0, 0} : drawShares(r->range(0.5f, 25), -1, r);
    float kind = r->unit();
    if (kind < 0.20f) return Shares{0, 0, 0};
    if (kind < 0.30f) return Shares{r->chance(0.25f) ? 1.0f : r->unit(), 0, 0};
    if (kind < 0.31f) return Shares{0, 1, 0};
    if (kind < 0.34f) return Shares{0, 0, 1};
    if (kind < 0.46f) return drawShares(r->range(0.5f, 15), -1, r);
    return drawShares(r->range(0, 100), -1, r);
}

HD Vec crustColour(Random *r) {
    float kind = r->unit();
    if (kind < 0.38f) return r->tinted(r->logRange(0.012f, 0.09f), 0.15f);                     // soot, black coke
    if (kind < 0.60f) return vec(1, r->range(0.55f, 0.8f), r->range(0.25f, 0.55f)) * r->logRange(0.04f, 0.22f);  // brown
    if (kind < 0.78f) return r->tinted(r->range(0.1f, 0.45f), 0.1f);                           // grey ash
    if (kind < 0.88f) return vec(1, r->range(0.35f, 0.5f), r->range(0.12f, 0.25f)) * r->range(0.08f, 0.3f);      // rust
    return vec(1, r->range(0.85f, 0.97f), r->range(0.65f, 0.85f)) * r->range(0.15f, 0.5f);     // pale, chalky
}

HD Vec usualCrustColour(Random *r) {
    float kind = r->unit();
    if (kind < 0.5f) return r->tinted(r->logRange(0.012f, 0.06f), 0.1f);                                       // soot, black coke
    if (kind < 0.85f) return vec(1, r->range(0.6f, 0.85f), r->range(0.4f, 0.7f)) * r->logRange(0.025f, 0.12f);  // brown
    return r->tinted(r->range(0.06f, 0.25f), 0.08f);                                                            // grey ash
}

HD Crust drawCrust(const Recipe &recipe, Random *r) {
    int family = recipe.family;
    Crust c;
    c.relief = family == kHeldBack ? kWorms + r->below(3) : r->below(kWorms);
    if (family == kDemo) {
        const int usual[4] = {kGranular, kCauliflower, kCracked, kCoarse};
        c.relief = usual[r->below(4)];
    }
    c.reliefAmp = r->range(0.35f, 1.1f);
    c.thinRelief = r->range(0.4f, 1.3f);
    c.reliefFreq = r->logRange(2.2f, 9.0f);
    c.fineness = r->logRange(0.6f, 2.4f);
    c.colourA = recipe.calm ? usualCrustColour(r) : crustColour(r);
    c.colourB = recipe.calm || r->chance(0.5f) ? c.colourA * r->range(0.5f, 1.8f) : crustColour(r);
    if (family == kDemo) c.colourA = vec(1, 0.82f, 0.66f) * r->range(0.02f, 0.07f), c.colourB = c.colourA * r->range(0.5f, 2.2f);
    c.rough = r->range(0.4f, 0.95f);
    c.wetRough = r->range(0.14f, 0.35f);
    c.wetShare = r->chance(0.55f) ? 0 : r->chance(0.4f) ? 1 : r->unit();
    c.wetFreq = r->range(0.5f, 2.0f);
    c.grain = r->chance(0.3f) ? 0 : r->range(0.1f, 0.8f);
    c.grainFreq = r->logRange(5, 25);
    if (c.relief == kTar) c.wetShare = r->range(0.6f, 1.0f), c.colourA = grey(0.02f) * r->range(0.5f, 3);
    // Pale crust is ash, dry and rough: a wet pale one could not be told from dull metal by anybody.
    if (luminance(c.colourA) > 0.15f) c.wetShare *= 0.3f, c.rough = fmaxf(c.rough, 0.7f), c.wetRough = fmaxf(c.wetRough, 0.25f);
    if (c.relief == kVelvet) c.wetShare = 0, c.colourA = r->tinted(r->range(0.01f, 0.06f), 0.1f), c.rough = 0.95f;
    return c;
}

HD Film drawFilm(float share, Random *r) {
    const Vec colours[6] = {{0.55f, 0.3f, 0.07f}, {0.25f, 0.12f, 0.04f}, {0.3f, 0.09f, 0.04f}, {0.02f, 0.016f, 0.013f}, {0.35f, 0.2f, 0.1f}, {0.45f, 0.38f, 0.2f}};
    Film f;
    f.cover = share;
    f.soft = r->logRange(0.01f, 0.2f);
    f.freq = r->logRange(0.3f, 1.6f);
    f.stretch = r->chance(0.3f) ? r->range(1.5f, 7) : 0;
    f.opacity = r->range(0.22f, 0.95f);
    f.colour = r->between(colours[r->below(6)], colours[r->below(6)]) * r->range(0.6f, 1.4f);
    f.rough = r->range(0.08f, 0.6f);
    return f;
}

HD void drawPlaces(int family, Deposit *d, Random *r) {
    d->freq = r->logRange(0.3f, 2.2f);
    bool streaks = r->chance(family == kDemo ? 0.3f : 0.4f);
    d->streakAround = streaks ? r->range(1.2f, family == kDemo ? 8 : 10) : 0;
    d->streakAlong = r->range(0.4f, 5);
    d->soft = r->chance(0.45f) ? r->range(0.004f, 0.03f) : r->logRange(0.03f, 0.5f);
    d->heavySoft = r->logRange(0.02f, 0.6f);
    d->heavyMix = r->range(0, 0.7f);
    d->side = r->chance(0.5f) ? 0 : r->range(0, 2);
    d->sideAngle = r->range(-kPi, kPi);
    d->fillet = r->chance(0.5f) ? 0 : r->range(-0.8f, 2);
    d->stem = r->chance(0.5f) ? 0 : r->range(-2.5f, 2);
    d->rim = r->chance(0.6f) ? 0 : r->range(-1.2f, 1.8f);
}

// Growth adds crust on the same field; the share is of the valve still free of it.
HD void grow(Deposit *d, float growth) {
    if (growth <= 0) return;
    d->cover += (1 - d->cover) * growth;
    d->heavy += (1 - d->heavy) * 0.6f * growth;
    d->mediumThickness = fminf(d->mediumThickness * (1 + 0.5f * growth), 0.055f);
    d->film.cover += (1 - d->film.cover) * growth;
}

HD Deposit drawDeposit(const Recipe &recipe, uint64_t seed) {
    Random r(seed);
    Deposit d;
    Shares s = drawMix(recipe, &r);
    d.seed = uint32_t(r.bits());
    d.basis = recipe.family == kHeldBack ? kGradientNoise : r.chance(0.25f) ? kBillowNoise : kValueNoise;
    d.octaves = 3 + r.below(2);
    drawPlaces(recipe.family, &d, &r);
    if (recipe.family == kDemo) d.freq = fmaxf(d.freq, 0.8f);  // fine enough to come near the wanted index
    d.cover = s.medium + s.heavy;
    d.heavy = s.heavy;
    d.mediumThickness = r.range(0.02f, 0.068f);
    d.heavyThickness = r.logRange(0.085f, 0.3f);
    d.crumbs = r.chance(0.75f) || recipe.index == 0 ? 0 : r.range(0.03f, 0.35f) * (s.medium + s.heavy > 0 ? 1.0f : 0.3f * float(r.chance(0.3f)));
    d.crumbFreq = r.range(0.8f, 3);
    d.crumbHeight = r.logRange(0.02f, 0.2f);
    d.crust = drawCrust(recipe, &r);
    // Tar needs body: a thin layer of it has neither relief nor colour of its own.
    if (d.crust.relief == kTar) d.mediumThickness = fmaxf(d.mediumThickness, 0.045f);
    d.film = drawFilm(s.film + d.cover >= 0.99f ? 1 : s.film / (1 - d.cover), &r);
    if (s.film <= 0) d.film.cover = 0;
    // Crust grows out of a film, which often still surrounds it.
    d.film.fringe = d.cover > 0 && recipe.index < 0 && r.chance(0.5f) ? r.logRange(0.02f, 0.5f) : 0;
    grow(&d, recipe.growth);
    d.method = recipe.method;
    d.cleaning = recipe.cleaning;
    // A seventh of the unplanned valves has been cleaned before, more or less well.
    if (recipe.index < 0 && r.chance(0.15f)) d.method = kHand + r.below(3), d.cleaning = r.range(0.5f, 1);
    d.peak = recipe.index < 0 && d.cover > 0 && r.chance(0.75f) ? r.logRange(0.03f, 0.4f) : 0;
    d.rise = r.range(0.5f, 2.5f);
    d.crust.glints = 0, d.coat.thickness = 0, d.scrapes = 0;
    if (recipe.index < 0 && recipe.family != kDemo) drawDeposited(&d, recipe, seed);
    float thin = 1.6f * d.mediumThickness * (1 + 0.7f * d.crust.thinRelief), thick = 1.5f * d.heavyThickness * (1 + 0.7f * d.crust.reliefAmp);
    float top = d.heavy > 0 ? fmaxf(thin, thick) : thin;
    if (d.peak > 0) top = 1.4f * d.peak * (1 + 0.7f * fmaxf(d.crust.reliefAmp, d.crust.thinRelief));
    if (d.cover <= 0) top = 0;
    float crumbs = d.crumbHeight * (1 + 0.7f * fmaxf(d.crust.reliefAmp, d.crust.thinRelief));
    float coat = d.coat.thickness * (1 + d.coat.waver) * (1 + 0.7f * fmaxf(d.crust.reliefAmp, d.crust.thinRelief));
    d.maxThickness = fmaxf(fmaxf(top, coat), d.crumbs > 0 ? crumbs : 0);
    return d;
}

// Neighbours of one engine mostly wear the same coat, each in its own places.
HD void shareLook(const Deposit &first, Deposit *second) {
    Random r(mix64(second->seed));
    if (!r.chance(0.6f)) return;
    uint32_t seed = second->seed;
    *second = first;
    second->seed = seed;
    second->cover = clampf(first.cover * r.range(0.6f, 1.4f), 0, 1);
    second->heavy = fminf(first.heavy, second->cover);
    second->sideAngle = r.range(-kPi, kPi);
}
