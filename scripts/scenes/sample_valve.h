// Draws shape and metal of a valve.
#pragma once
#include "recipe.h"
#include "valve.h"

enum MetalKind { kPolished, kSatin, kTurned, kBlasted, kNitrided, kHeatTinted, kDull, kMirrorChrome, kGolden, kMetalCount };  // last two: family 1

HD void drawShape(Valve *v, Random *r) {
    v->headRadius = r->range(2.0f, 4.0f);
    v->seatFace = r->range(0.25f, 0.45f);
    v->tulipHeight = r->logRange(0.9f, 4.4f);
    v->tulipPower = r->chance(0.3f) ? r->range(1.1f, 1.8f) : r->range(1.8f, 5.0f);  // from nearly a cone to a trumpet
}

HD void finish(Metal *m, Random *r) {
    m->turning = r->chance(m->kind == kTurned ? 1 : 0.3f) ? r->range(0.2f, 1) : 0;
    m->turningFreq = r->logRange(8, 70);
    m->mottle = r->chance(0.4f) ? 0.1f : r->range(0.1f, 0.6f);
    m->mottleFreq = r->logRange(0.4f, 4);
    m->grain = r->chance(m->kind == kBlasted || m->kind == kDull ? 0.3f : 0.7f) ? 0 : r->range(0.1f, 0.6f);
    m->grainFreq = r->logRange(6, 30);
    m->waves = r->chance(0.5f) ? 0 : r->logRange(0.01f, 0.2f);
    m->waveFreq = r->logRange(0.8f, 14);
    m->brush = r->chance(0.3f) ? 0 : r->logRange(0.02f, 0.25f);
    m->scratches = r->chance(0.75f) ? 0 : r->unit();
    m->stain = r->chance(0.6f) ? 0 : r->range(0.2f, 1);
    m->stainFreq = r->logRange(0.4f, 2.5f);
    m->stainStreak = r->chance(0.6f) ? 0 : r->range(2, 8);
    m->stainColour = r->between(vec(0.95f, 0.89f, 0.8f), vec(0.6f, 0.62f, 0.65f)) * r->range(0.85f, 1.1f);
    m->patina = 0;
    m->seed = r->bits();
}

// What use and handling make of metal, from a stream of its own: dull spots, a blasted skin, nitriding without sheen. Nothing of it
// may pass for deposit to whoever sees the photo: a stain as brown as a film is a film. Metal has hardly a diffuse part of its own:
// what its facets scatter more than once is at most half of what they mirror.
HD void age(Metal *m, uint64_t seed) {
    Random r(mix64(seed + 301));
    if (r.chance(m->kind == kBlasted ? 0.1f : 0.35f)) m->patina = r.range(0.1f, 0.45f), m->patinaFreq = r.logRange(2, 14);
    if (m->kind == kBlasted && r.chance(0.7f)) {  // grey, even, fine-grained, without sheen
        m->rough = r.range(0.45f, 0.75f), m->specular = r.tinted(r.range(0.2f, 0.5f), 0.05f), m->diffuse = m->specular * r.range(0.1f, 0.4f);
        m->mottle = 0.1f, m->grain *= 0.4f, m->turning *= float(r.chance(0.3f)), m->stain *= float(r.chance(0.3f));
        m->waves = r.logRange(0.02f, 0.1f), m->waveFreq = r.logRange(20, 50);
    }
    if (m->kind == kNitrided && r.chance(0.6f)) {  // smooth and dark
        m->rough = r.range(0.3f, 0.6f), m->diffuse = m->specular * r.range(0.1f, 0.5f);
        m->mottle = 0.1f, m->grain *= 0.3f, m->waves = 0, m->stain *= float(r.chance(0.4f));
    }
}

HD Metal drawMetal(const Recipe &recipe, Random *r) {
    int family = recipe.family;
    bool dusky = recipe.dusky;
    Metal m;
    // Polished twice as often: in a dark port it looks as black as crust, and that takes the most practice to tell.
    m.kind = family == kHeldBack && r->chance(0.4f) ? kMirrorChrome + r->below(2) : r->below(kMirrorChrome + 1) % kMirrorChrome;
    const int dark[5] = {kPolished, kPolished, kTurned, kNitrided, kDull};
    if (dusky) m.kind = dark[r->below(5)];
    if (recipe.blasted) m.kind = kBlasted;
    m.heat = 0, m.heatStart = 0, m.heatRange = 0;
    float level = r->range(0.4f, 0.65f);
    m.rough = r->range(0.12f, 0.4f);
    float haze = r->range(0, 0.08f);
    switch (m.kind) {
    case kPolished: m.rough = r->range(0.03f, 0.12f), haze = r->range(0, 0.02f); break;
    case kTurned: m.rough = r->range(0.1f, 0.35f); break;
    case kBlasted: m.rough = r->range(0.4f, 0.7f), level *= 0.8f, haze = level * r->range(0.1f, 0.5f); break;
    case kNitrided: m.rough = r->range(0.15f, 0.6f), level = r->range(0.06f, 0.22f), haze = level * r->range(0.05f, 0.5f); break;
    case kHeatTinted:
        m.heat = r->range(0.4f, 1);
        m.heatStart = r->range(0, 3);
        m.heatRange = r->range(-2, 2.5f);
        break;
    case kDull: m.rough = r->range(0.35f, 0.7f), level = r->range(0.12f, 0.4f), haze = level * r->range(0.1f, 0.5f); break;
    case kMirrorChrome: m.rough = 0.04f, level = 0.6f, haze = 0; break;
    default: break;
    }
    m.specular = r->tinted(level, 0.06f);
    m.diffuse = r->tinted(haze, 0.15f);
    if (m.kind == kDull && r->chance(0.6f)) {  // a general brown cast of the metal itself
        Vec cast = vec(1, r->range(0.82f, 0.97f), r->range(0.65f, 0.92f));
        m.specular = m.specular * cast, m.diffuse = m.diffuse * cast;
    }
    if (m.kind == kGolden) m.specular = vec(0.75f, 0.55f, 0.22f) * r->range(0.7f, 1.1f);
    finish(&m, r);
    if (dusky && r->chance(0.5f)) m.stain = r->range(0.4f, 1), m.mottle = r->range(0.2f, 0.6f);
    return m;
}
