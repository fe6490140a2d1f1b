// Draws even coats and what they look like, and the neutral, glinting and tarry looks of crust. From a stream of their own.
#pragma once
#include "deposit.h"
#include "recipe.h"

enum CoatLook { kAsh, kCharcoal, kSmoothDark, kSmoothGrey, kSoot };

// Tones of smooth and matte coats are those of dull, nitrided and blasted metal, so that tone alone tells nothing; but a coat is dull,
// where metal gathers the lamp in a highlight, and every third is crazed.
HD void drawCoatLook(Deposit *d, const Recipe &recipe, Random *r) {
    Crust &c = d->crust;
    const CoatLook looks[8] = {kSmoothDark, kSmoothDark, kSmoothDark, kCharcoal, kCharcoal, kSoot, kAsh, kSmoothGrey};
    int look = looks[r->below(recipe.dusky ? 6 : 8)];
    c.relief = recipe.family == kHeldBack ? kWorms : kGranular, c.wetShare = 0, c.glints = 0, c.grain = 0;
    float sand = r->chance(0.3f) ? 0.0005f : r->logRange(0.0015f, 0.007f);  // height of its grain, stem diameters
    c.rough = r->range(0.75f, 0.95f);
    switch (look) {
    case kAsh:
        c.colourA = vec(1, r->range(0.86f, 1), r->range(0.7f, 1)) * r->range(0.15f, 0.45f);
        break;
    case kCharcoal:
        c.colourA = r->tinted(r->logRange(0.02f, 0.2f), 0.05f);
        c.grain = r->range(0.1f, 0.7f);
        c.glints = r->chance(0.6f) ? r->logRange(0.05f, 0.8f) : 0;
        break;
    case kSmoothDark:
        c.colourA = r->tinted(r->logRange(0.012f, 0.1f), 0.08f);
        c.rough = r->range(0.6f, 0.9f);
        sand *= 0.4f;
        break;
    case kSmoothGrey:
        c.colourA = vec(1, r->range(0.9f, 1.02f), r->range(0.8f, 1.1f)) * r->logRange(0.08f, 0.35f);
        c.rough = r->range(0.7f, 0.95f);
        sand *= 0.4f;
        break;
    default:
        c.colourA = vec(1, r->range(0.92f, 1), r->range(0.85f, 1.1f)) * r->logRange(0.008f, 0.035f);
        c.rough = 0.95f;
        c.glints = r->chance(0.5f) ? r->logRange(0.02f, 0.3f) : 0;
    }
    c.colourB = c.colourA * r->range(0.75f, 1.3f);
    c.grainFreq = r->logRange(8, 30);
    float freq = r->logRange(12, 35);
    c.reliefFreq = d->cover > 0 ? c.reliefFreq : freq;
    c.fineness = freq / c.reliefFreq;
    c.thinRelief = fminf(sand / d->coat.thickness, 0.5f);
    if (r->chance(0.35f)) {
        c.relief = recipe.family == kHeldBack ? kPlates : kCracked;
        c.fineness = r->logRange(2.5f, 10) / c.reliefFreq, c.thinRelief = r->range(0.3f, 0.9f);
    }
    if (d->cover <= 0) c.reliefAmp = c.thinRelief;
}

HD void drawCoatExtent(Coat *c, Random *r) {
    c->thickness = r->chance(0.87f) ? r->logRange(0.016f, 0.062f) : r->range(0.078f, 0.13f);
    c->waver = r->range(0, 0.08f);
    c->cover = r->chance(0.25f) ? 1 : r->range(0.5f, 0.98f);
    c->freq = r->logRange(0.3f, 1.8f);
    c->soft = r->chance(0.6f) ? r->range(0.004f, 0.02f) : r->logRange(0.05f, 0.4f);
    c->chips = r->chance(0.4f) ? 0 : r->logRange(0.02f, 0.3f);
    c->chipFreq = r->logRange(0.7f, 5);
    c->collar = r->chance(0.3f) ? 100 : r->range(-0.5f, 3);
    c->above = r->chance(0.5f) ? 0 : r->range(0.15f, 0.6f);
    c->foot = r->chance(0.4f) ? 0 : r->range(0.02f, 0.4f);
    // One that ends nowhere in view could be told from matte metal by nobody.
    if (c->cover == 1 && c->chips == 0) c->chips = r->logRange(0.05f, 0.3f), c->chipFreq = fmaxf(c->chipFreq, 1.5f);
    // A thick one must show somewhere how thick it is.
    if (c->thickness > kHeavyFrom) c->chips = fmaxf(c->chips, r->range(0.05f, 0.25f));
    c->edge = r->logRange(0.01f, 0.15f);
    c->fracture = r->logRange(0.5f, 1.8f);
}

// A coat instead of the crust, at times with some crust on it.
HD void layCoat(Deposit *d, const Recipe &recipe, Random *r) {
    drawCoatExtent(&d->coat, r);
    if (recipe.dusky) d->coat.cover = fmaxf(d->coat.cover, 0.8f);
    if (r->chance(0.7f)) {
        d->cover = 0, d->heavy = 0, d->peak = 0;
        if (r->chance(0.8f)) d->crumbs = 0;
    } else {
        d->cover *= 0.6f;
    }
    if (r->chance(0.6f)) d->film.cover = 0, d->film.fringe = 0;
    drawCoatLook(d, recipe, r);
}

// Black, wet and lumpy, with a thousand points of light.
HD void makeTarry(Crust *c, int family, Random *r) {
    if (family != kHeldBack) c->relief = r->chance(0.6f) ? kLumps : kGranular;
    c->reliefAmp = r->range(0.6f, 1.1f), c->thinRelief = r->range(0.5f, 1.2f);
    c->reliefFreq = r->logRange(3, 10);
    c->colourA = vec(1, r->range(0.8f, 1), r->range(0.65f, 1)) * r->logRange(0.006f, 0.03f), c->colourB = c->colourA * r->range(0.5f, 2);
    c->wetShare = r->range(0.6f, 1), c->wetRough = r->range(0.14f, 0.25f);
    c->glints = r->range(0.2f, 1);
}

HD void drawDeposited(Deposit *d, const Recipe &recipe, uint64_t seed) {
    Random r(mix64(seed + 501));
    Crust &c = d->crust;
    c.glints = r.chance(0.7f) ? 0 : r.logRange(0.02f, 0.7f);
    c.glintFreq = r.logRange(14, 45);
    float kind = r.unit();
    if (kind < (recipe.dusky ? 0.45f : 0.16f)) {
        layCoat(d, recipe, &r);
    } else if (kind < 0.65f && r.chance(0.28f)) {
        makeTarry(&c, recipe.family, &r);
    } else if (kind < 0.85f && r.chance(0.5f)) {
        c.colourA = r.tinted(r.logRange(0.01f, 0.15f), 0.05f), c.colourB = c.colourA * r.range(0.5f, 1.8f);
    }
    if (recipe.blasted) d->coat.thickness = 0, d->method = kBlast, d->cleaning = 1;
    bool present = d->cover > 0 || d->coat.thickness > 0 || d->film.cover > 0;
    if (present && r.chance(0.1f)) d->scrapes = 1 + r.below(6), d->scrapeDepth = r.chance(0.6f) ? 1 : r.range(0.4f, 0.9f);
}
