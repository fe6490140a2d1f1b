// Draws what lies on the walls: black soot, crust of the valve's own colour, or neither.
#pragma once
#include "recipe.h"

HD Vec sootColour(Random *r) {
    const Vec casts[4] = {{0.82f, 0.97f, 1.3f}, {1.25f, 0.95f, 0.7f}, {1, 1, 1}, {0.95f, 1, 1.08f}};
    return casts[r->below(4)] * r->logRange(0.013f, 0.065f);
}

// In a black port the valve is mostly the brighter thing: ash and dry coke, not the soot of the walls.
HD void brighten(Crust *c, Random *r) {
    float level = luminance(c->colourA), wanted = r->logRange(0.06f, 0.32f);
    if (level >= wanted) return;
    c->colourB = c->colourB * (wanted / level);
    c->colourA = lerp(c->colourA * (wanted / level), r->tinted(wanted, 0.12f), r->unit());
}

HD void drawSoot(Scene *s, Random *r) {
    Soot &o = s->port.soot;
    bool mouth = s->view == kMouth, black = r->chance(mouth ? 0.65f : 0.33f), alike = !black && r->chance(mouth ? 0.6f : 0.15f);
    o.share = black || alike ? (r->chance(0.7f) ? 1 : r->range(0.5f, 0.95f)) : 0;
    o.freq = r->logRange(0.2f, 1.2f);
    o.colourA = sootColour(r);
    o.colourB = o.colourA * r->range(0.5f, 1.7f);
    o.rough = r->range(0.5f, 0.95f);
    o.grain = r->chance(0.4f) ? 0 : r->range(0.1f, 0.7f);
    o.glints = black && r->chance(0.6f) ? r->range(0.02f, 0.3f) : 0;
    o.glintFreq = r->logRange(10, 45);
    o.glintLevel = r->logRange(0.08f, 0.8f);
    if (alike) {
        const Crust &c = s->valves[0].deposit.crust;
        float level = r->range(0.6f, 1.3f);
        o.colourA = c.colourA * level, o.colourB = c.colourB * level, o.grain = c.grain;
        s->port.wall.crust = fmaxf(s->port.wall.crust, r->range(0, 0.25f));
    }
    if (black && r->chance(0.5f)) s->port.ringGrime = 1;
    if (black && r->chance(0.6f)) {  // soot levels what the casting left
        s->port.reliefAmp *= r->range(0.1f, 0.5f), s->port.lumpAmp *= 0.5f;
        s->port.wall.crust *= r->range(0, 0.5f);
    }
    if (black && r->chance(0.65f))
        for (int i = 0; i < 2; i++) brighten(&s->valves[i].deposit.crust, r);
}
