// Draws what lies loose in the port.
#pragma once
#include "recipe.h"

HD void drawLitter(Scene *s, uint64_t seed) {
    Random r(mix64(seed + 61));
    Litter &l = s->litter;
    l.grains = 0, l.puddle = 0;
    if (s->family == kDemo) return;
    float lean = r.range(0, 1.3f), round = r.range(-kPi, kPi);  // the head stands or hangs at any angle
    l.up = vec(sinf(lean) * cosf(round), sinf(lean) * sinf(round), cosf(lean));
    l.seed = r.bits();
    if (r.chance(0.22f)) l.grains = r.logRange(0.05f, 0.7f);
    l.flakes = r.chance(0.25f);
    l.grainFreq = l.flakes ? r.logRange(1.5f, 6) : r.logRange(6, 22);
    l.colourA = r.chance(0.5f) ? r.tinted(r.range(0.3f, 0.8f), 0.15f) : r.tinted(r.logRange(0.01f, 0.08f), 0.1f);
    l.colourB = r.chance(0.4f) ? vec(1, r.range(0.5f, 0.9f), r.range(0.2f, 0.8f)) * r.range(0.2f, 0.7f) : l.colourA;
    if (r.chance(0.15f)) l.puddle = r.range(0.2f, 0.75f);
    l.puddleFreq = r.logRange(0.3f, 1.5f);
    l.liquid = vec(r.range(0.5f, 1), r.range(0.35f, 0.9f), r.range(0.15f, 0.8f)) * r.range(0.4f, 1);
}
