// Places the camera and the lamps.
#pragma once
#include "camera.h"
#include "recipe.h"

HD bool isFree(const Scene &s, Vec p, float room) {
    int part;
    return sceneDistance(s, p, &part) > room;
}

// How many of six points spread over head and fillet the eye sees.
HD int seenPoints(const Scene &s, Vec eye) {
    const Valve &v = s.valves[0];
    int seen = 0;
    for (int i = 0; i < 6; i++) {
        float rho = v.headRadius * (i < 4 ? 0.75f : 0.4f), a = 1.5707963f * float(i) + 0.4f;
        Vec p = v.base + vec(rho * cosf(a), rho * sinf(a), profileHeight(v, rho) + v.deposit.maxThickness);
        seen += sees(s, eye, p);
    }
    return seen;
}

HD void drawLens(Camera *c, Random *r) {
    c->tanHalf = tanf(r->range(20, 48) * (kPi / 180));
    c->distortion = r->chance(0.5f) ? 0 : r->range(0, 0.25f);
}

// Off-centre for the aim: mostly near the middle, at times near or beyond the edge.
HD void aimAtValve(Scene *s, Random *r) {
    float wide = s->family == kDemo ? 0.12f : r->chance(0.8f) ? 0.22f : 0.5f;
    Vec middle = s->valves[0].base + vec(0, 0, 0.35f * s->valves[0].tulipHeight);
    aim(&s->camera, middle, clampf(wide * r->bell(), -0.95f, 0.95f), clampf(0.75f * wide * r->bell(), -0.75f, 0.75f), r->range(0, 2 * kPi));
}

HD Vec insidePort(const Scene &s, Random *r) {
    const Tube &t = s.port.tubes[r->chance(0.55f) ? 1 : r->chance(0.5f) ? 2 : 0];
    float share = r->unit();
    Vec off = r->direction() * (0.75f * (t.radius + t.widening * share) * r->unit());
    return t.start + t.along * share + off;
}

HD Vec outsidePort(const Scene &s, Random *r) {
    Vec back = s.port.mouthNormal * r->logRange(1.0f, 12), a, b;
    frameAround(s.port.mouthNormal, &a, &b);
    float aside = 0.3f * length(back) + 0.6f;
    return s.port.mouth + back + a * (aside * r->range(-1, 1)) + b * (aside * r->range(-1, 1));
}

// Chooses the lens so that the head fills a wanted part of the frame, within what such lenses can do.
HD void fitLens(Scene *s, Random *r) {
    float fill = s->family == kDemo ? r->range(0.5f, 0.75f) : r->logRange(0.22f, 1.3f);
    float half = s->valves[0].headRadius / length(s->camera.eye - s->valves[0].base) / fill;
    s->camera.tanHalf = clampf(half, 0.36f, s->view == kFlange ? 0.75f : 1.11f);
}

// Tries places until enough of the head is seen; keeps the best one otherwise.
HD void placeAtValve(Scene *s, Random *r) {
    int best = -1, wanted = s->family == kDemo ? 5 : 1 + r->below(5);
    Vec eye = s->port.tubes[1].start;
    for (int i = 0; i < 48 && best < wanted; i++) {
        Vec p = s->view == kFlange ? outsidePort(*s, r) : insidePort(*s, r);
        float away = length(p - s->valves[0].base);
        if (away < 2.6f || (s->family == kDemo && s->view == kBore && (away > 8 || away < 4))) continue;
        if (!isFree(*s, p, 0.32f)) continue;
        int seen = seenPoints(*s, p);
        if (seen > best) best = seen, eye = p;
    }
    s->camera.eye = eye;
    if (r->chance(s->family == kDemo ? 1.0f : 0.8f)) fitLens(s, r);
    aimAtValve(s, r);
}

HD void placeAway(Scene *s, Random *r) {
    Vec eye = s->port.tubes[1].start + s->port.tubes[1].along * 0.5f;
    bool outside = r->chance(0.35f);
    for (int i = 0; i < 48; i++) {
        Vec p = outside ? outsidePort(*s, r) : insidePort(*s, r);
        if (isFree(*s, p, 0.32f)) eye = p;
    }
    s->camera.eye = eye;
    Vec target = outside ? s->port.mouth + r->direction() * 3.0f : eye + r->direction();
    aim(&s->camera, target, 0, 0, r->range(0, 2 * kPi));
}

HD void placeInClutter(Scene *s, Random *r) {
    Vec eye = vec(0, 0, 9);
    for (int i = 0; i < 20; i++) {
        Vec p = r->direction() * r->range(3, 12);
        p.z = fabsf(p.z) + 0.5f;
        if (isFree(*s, p, 0.4f)) eye = p;
    }
    s->camera.eye = eye;
    aim(&s->camera, vec(r->range(-2, 2), r->range(-2, 2), r->range(0, 1)), 0, 0, r->range(0, 2 * kPi));
}

HD void drawLamps(Scene *s, Random *r) {
    Lights &l = s->lights;
    bool open = s->view == kFlange || s->view == kClutterView;
    bool torch = r->chance(open ? 0.7f : 0.08f);
    l.count = torch ? 1 + r->below(2) : s->family == kHeldBack ? 2 + r->below(2) : 1 + r->below(8);
    // A lamp must not end up behind the wall that the camera is close to.
    float ring = torch && open ? r->range(0.4f, 2.5f) : s->family == kHeldBack ? 0.28f : r->range(0.03f, 0.27f);
    float start = r->range(0, 2 * kPi), arc = r->chance(0.75f) ? 2 * kPi : r->range(0.5f, 3);
    for (int i = 0; i < l.count; i++) {
        float a = start + arc * float(i) / float(l.count);
        l.position[i] = vec(ring * cosf(a), ring * sinf(a), r->range(-0.05f, 0.05f));
        l.power[i] = r->range(0.5f, 1.2f) / float(l.count) * 10;
    }
    float cast = s->family == kDemo ? 0.3f : 1;
    l.colour = vec(1 + 0.12f * cast * r->bell(), 1, 1 + 0.15f * cast * r->bell());
    l.beam = r->range(0, 3);
    l.bounce = r->range(0.4f, 1.3f);
    l.radius = r->range(0.02f, 0.08f);
    float level = open ? r->logRange(0.002f, 0.1f) : r->chance(0.6f) ? 0 : r->logRange(0.0005f, 0.02f);
    l.ambient = r->tinted(level, 0.3f);
    l.sky = open ? r->tinted(r->logRange(0.005f, 0.5f), 0.3f) : r->tinted(r->logRange(0.0005f, 0.03f), 0.2f);
}
