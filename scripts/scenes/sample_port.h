// Draws the port around the valves: hollow, seats, guides, wall finish.
#pragma once
#include "port.h"
#include "recipe.h"

HD Tube tube(Vec from, Vec to, float r0, float r1, float flatten) {
    Vec along = to - from;
    return Tube{from, along, 1 / dot(along, along), r0, r1 - r0, flatten};
}

// Throat bowls over each seat, then a runner in two pieces that bends towards +x. For flange views it is short and straight.
HD void drawHollow(Scene *s, bool flange, Random *r) {
    Port &p = s->port;
    float R = s->valves[0].headRadius, bowl = R * r->range(0.92f, 1.12f), width = R * r->range(0.95f, 1.45f);
    float bend = flange ? r->range(0.35f, 0.9f) : r->range(0.35f, 1.25f), more = r->range(-0.15f, 0.5f);
    float knee = R * r->range(0.7f, 1.6f), aside = s->valveCount == 2 ? s->valves[1].base.y : 0;
    float first = r->range(1.2f, 3.5f) * R, rest = flange ? R * r->range(0.2f, 1.2f) : R * r->range(1.5f, 4);
    Vec dir = vec(sinf(bend), 0, cosf(bend)), far = vec(sinf(bend + more), r->range(-0.2f, 0.2f), cosf(bend + more));
    if (flange) far = dir;
    float flat = aside != 0 ? r->range(0.5f, 0.85f) : r->range(0.75f, 1.0f);
    Vec a = vec(0, 0, -0.3f), b = vec(0, 0, knee), c = b + dir * first + vec(0, 0.5f * aside, 0), d = c + normalize(far) * rest;
    p.tubes[0] = tube(a, b, bowl, bowl * r->range(0.95f, 1.15f), 1);
    p.tubes[1] = tube(b, c, bowl, width, lerp(1.0f, flat, 0.5f));
    p.tubes[2] = tube(c, d + normalize(far) * 2, width, width * r->range(0.95f, 1.15f), flat);
    p.tubeCount = 3;
    if (aside != 0) {
        Vec side = vec(0, aside, 0);
        p.tubes[3] = tube(a + side, b + side, bowl, bowl, 1);
        p.tubes[4] = tube(b + side, c, bowl, width, 1);
        p.tubeCount = 5;
    }
    p.blend = r->range(0.3f, 1.4f);
    p.mouth = d;
    p.mouthNormal = normalize(normalize(far) + vec(r->range(-0.2f, 0.2f), 0, r->range(-0.2f, 0.2f)));
    p.boltOffset = width / flat + r->range(1.0f, 2.5f);
}

HD float roofHeight(const Scene &s, Vec axis) {
    float z = 0.5f;
    while (z < 16 && hollowDistance(s, axis + vec(0, 0, z)) < 0) z += 0.1f;
    return z;
}

HD void drawSeat(Scene *s, int i, Random *r) {
    Seat &seat = s->seats[i];
    const Valve &v = s->valves[i];
    seat.centre = vec(v.base.x, v.base.y, 0);
    seat.throatRadius = v.headRadius * r->range(0.86f, 0.95f);
    seat.height = r->range(0.4f, 1.0f);
    if (s->view == kMouth) seat.height = fminf(seat.height, 0.6f);  // flush with the floor of the port
    seat.cut = r->chance(0.3f) ? 0 : r->range(0.2f, 1.3f);
    seat.outer = v.headRadius + r->range(0.3f, 0.7f);
    // What the closed seat leaves free of the face belongs to the back of the head.
    s->valves[i].faceFrom = seat.throatRadius;
}

// In many heads little of the stem is seen, at times none: the guide ends right over the fillet or on its slender part.
HD void reachForFillet(Guide *g, const Valve &v, float room, float roof, Random *r) {
    float lowest = profileHeight(v, g->radius + 0.08f) + 0.1f;
    g->bottom = fminf(lowest + r->range(0, room), fmaxf(roof, lowest));
    float clear = profileHeight(v, g->bossRadius + 0.1f) + 0.2f;
    g->bossBottom = fmaxf(g->bottom + r->range(-0.1f, 1.0f), clear);
}

// A wide round boss that comes down to the fillet: of the stem its end is seen at most, and the slender end of the head is no stem.
HD void hideStraightPart(Guide *g, const Valve &v, float roof, Random *r) {
    g->boss = true;
    g->bossRadius = fmaxf(r->range(0.35f, 0.6f) * v.headRadius, 1.1f);
    g->bossTaper = r->range(0.05f, 0.5f);
    g->bossRound = r->range(0.6f, 1.3f);
    reachForFillet(g, v, 1.0f, roof, r);
}

// A dark, smooth head without a stem in view must be as common as the empty seat that it resembles.
HD void drawGuide(Scene *s, int i, int family, Random *r) {
    Guide &g = s->guides[i];
    g.axis = vec(s->valves[i].base.x, s->valves[i].base.y, 0);
    float roof = roofHeight(*s, g.axis), low = fminf(1.0f, 0.45f * roof);
    float kind = r->unit();
    g.boss = kind > 0.12f;
    float reach = kind < 0.25f ? r->range(0, 0.15f) : kind < 0.5f ? r->range(0.1f, 0.5f) : r->range(0.4f, 0.9f);
    g.bossBottom = fmaxf(roof * (1 - reach), low);
    g.bossRadius = r->range(0.85f, 1.6f);
    g.bossTaper = r->chance(0.5f) ? 0 : r->range(0, 0.5f);
    g.bossStretch = family == kHeldBack ? r->range(0.45f, 0.8f) : r->chance(0.6f) ? 1 : r->range(1, 3);
    if (g.bossStretch < 1) g.bossRadius = fmaxf(g.bossRadius, 1.3f / g.bossStretch * 0.65f);
    g.bossRound = r->range(0.1f, 0.7f);
    g.radius = r->range(0.68f, 0.95f);
    g.bottom = fmaxf((g.boss ? g.bossBottom : roof) - r->range(-0.1f, 1.6f), low);
    bool dusky = s->dusky;
    if (family == kDemo) return;
    if (r->chance(dusky ? 0.5f : 0.2f)) reachForFillet(&g, s->valves[i], dusky ? 0.4f : 1.6f, roof, r);
    else if (r->chance(0.15f)) hideStraightPart(&g, s->valves[i], roof, r);
}

HD Surface drawSurface(float level, float spread, Random *r) {
    Surface s;
    s.colourA = r->tinted(level, spread);
    s.colourB = s.colourA * r->logRange(0.35f, 2.0f);
    s.grime = r->chance(0.5f) ? r->tinted(r->logRange(0.01f, 0.08f), 0.2f) : vec(1, 0.6f, 0.33f) * r->logRange(0.03f, 0.25f);
    s.specular = r->range(0.03f, 0.25f);
    s.rough = r->range(0.3f, 0.85f);
    s.mottleFreq = r->logRange(0.3f, 5);
    s.grimeShare = r->chance(0.35f) ? 0 : r->range(0.05f, 1);
    s.grimeFreq = r->logRange(0.2f, 2);
    s.wetShare = r->chance(0.6f) ? 0 : r->unit();
    s.crust = 0;
    s.seed = r->bits();
    return s;
}

HD void drawWalls(Scene *s, Random *r) {
    int family = s->family;
    Port &p = s->port;
    p.wall = drawSurface(r->chance(0.35f) ? r->range(0.25f, 0.6f) : r->logRange(0.012f, 0.3f), r->range(0, 0.3f), r);
    if (s->calm) p.wall = drawSurface(r->chance(0.4f) ? r->logRange(0.008f, 0.05f) : r->logRange(0.03f, 0.4f), 0.1f, r);
    if (family == kDemo) p.wall = drawSurface(r->range(0.09f, 0.25f), 0.04f, r), p.wall.grimeShare *= 0.6f, p.wall.grime = p.wall.colourA * r->range(0.25f, 0.6f);
    if (s->dusky) p.wall = drawSurface(r->logRange(0.005f, 0.04f), 0.1f, r), p.wall.grimeShare = r->range(0.3f, 1);
    p.wall.crust = r->chance(s->calm ? 0.8f : 0.6f) ? 0 : r->range(0.02f, 0.3f);
    p.relief = family == kHeldBack ? kSmooth + r->below(2) : r->below(family == kDemo ? 2 : 4);
    p.reliefAmp = p.relief == kSmooth ? 0.005f : p.relief == kSandCast ? r->range(0.06f, 0.25f) : r->range(0.03f, 0.15f);
    p.reliefFreq = r->logRange(0.9f, 5);
    p.lumpAmp = r->chance(s->calm ? 0.9f : 0.4f) ? 0.05f : r->range(0.05f, 0.6f);
    p.lumpFreq = r->range(0.25f, 0.9f);
    if (s->view == kMouth) {  // wide enough to be looked through, and cast
        p.lumpAmp *= 0.3f, p.reliefAmp *= 0.6f;
        p.wall.wetShare *= 0.4f;
        if (p.relief == kRibbed && r->chance(0.8f)) p.relief = kAsCast;
    }
    bool clean = r->chance(s->dusky ? 0.2f : 0.5f);
    p.ring = drawSurface(clean ? r->range(0.05f, 0.2f) : r->logRange(0.015f, 0.15f), 0.1f, r);
    if (clean) p.ring.specular = r->range(0.3f, 0.6f), p.ring.rough = r->range(0.12f, 0.4f), p.ring.grimeShare *= 0.4f;
    p.flange = drawSurface(r->range(0.15f, 0.5f), 0.08f, r);
    if (s->view == kMouth) p.flange = drawSurface(r->logRange(0.07f, 0.45f), 0.1f, r), p.flange.rough = r->range(0.2f, 0.6f);
    p.flange.specular = r->range(0.1f, 0.5f);
    p.flange.grimeShare *= 0.4f;
    bool bronze = r->chance(0.4f);
    p.guideSpecular = bronze ? vec(0.7f, 0.45f, 0.2f) * r->range(0.5f, 1) : r->tinted(r->range(0.08f, 0.5f), 0.05f);
    p.guideDiffuse = p.guideSpecular * r->range(0.1f, 0.5f);
    p.guideRough = r->range(0.2f, 0.6f);
    p.ringGrime = r->unit();
    p.seed = r->bits();
}
