// Places the camera and the lamps.
#pragma once
#include "camera.h"
#include "recipe.h"
#include "sample_tool.h"

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
    c->window = Window{0, 0, 1};
    c->tanHalf = tanf(r->range(20, 48) * (kPi / 180));
    c->distortion = r->chance(0.5f) ? 0 : r->range(0, 0.25f);
}

// Off-centre for the aim: mostly near the middle, at times near or beyond the edge.
HD void aimAtValve(Scene *s, Random *r) {
    float wide = s->family == kDemo ? 0.12f : s->calm || r->chance(0.7f) ? 0.2f : 0.5f;
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
    float fill = s->family == kDemo ? r->range(0.5f, 0.75f) : s->calm ? r->logRange(0.38f, 1.2f) : r->logRange(0.22f, 1.3f);
    float half = s->valves[0].headRadius / length(s->camera.eye - s->valves[0].base) / fill;
    s->camera.tanHalf = clampf(half, 0.36f, s->view == kFlange ? 0.75f : 1.11f);
}

// One of kPlaces tries for the camera; they are independent of each other, so that a GPU can make them all at once.
constexpr int kPlaces = 32;

struct Place {
    Vec eye;
    int score;  // the highest is taken
};

HD Vec anywhereInView(const Scene &s, Random *r) {
    if (s.view == kClutterView) {
        Vec p = r->direction() * r->range(3, 12);
        return vec(p.x, p.y, fabsf(p.z) + 0.5f);
    }
    bool outside = s.view == kFlange || (s.view == kAway && s.seed % 3 == 0);
    return outside ? outsidePort(s, r) : insidePort(s, r);
}

HD Place tryPlace(const Scene &s, uint64_t seed, int k) {
    Random chance(seed), r(mix64(seed + 100 + k));
    Place place{anywhereInView(s, &r), -1};
    if (!isFree(s, place.eye, 0.32f)) return place;
    place.score = 0;
    if (s.view == kAway || s.view == kClutterView) return place;
    float away = length(place.eye - s.valves[0].base);
    bool odd = s.family == kDemo && s.view == kBore && (away > 8 || away < 4);
    if (away < 2.6f || odd) return place;
    // The first place that shows enough of the head is better than one that shows most of it: hidden heads are part of life.
    int wanted = s.family == kDemo ? 5 : s.calm ? 3 + chance.below(3) : 1 + chance.below(5), seen = seenPoints(s, place.eye);
    place.score = seen >= wanted ? 100 - k : seen;
    return place;
}

HD void lookFrom(Scene *s, const Place *places, uint64_t seed) {
    int best = 0;
    for (int k = 1; k < kPlaces; k++)
        if (places[k].score > places[best].score) best = k;
    Random r(mix64(seed + 1));
    s->camera.eye = places[best].score >= 0 ? places[best].eye : s->view == kClutterView ? vec(0, 0, 9) : s->port.tubes[1].start;
    if (s->view == kClutterView) {
        aim(&s->camera, vec(r.range(-2, 2), r.range(-2, 2), r.range(0, 1)), 0, 0, r.range(0, 2 * kPi));
    } else if (s->view == kAway) {
        bool outside = dot(s->camera.eye - s->port.mouth, s->port.mouthNormal) > 0;
        Vec target = outside ? s->port.mouth + r.direction() * 3.0f : s->camera.eye + r.direction();
        aim(&s->camera, target, 0, 0, r.range(0, 2 * kPi));
    } else {
        if (r.chance(s->calm ? 1.0f : 0.7f)) fitLens(s, &r);
        aimAtValve(s, &r);
    }
    holdTool(s, seed);
}

HD void drawLamps(Scene *s, Random *r) {
    Lights &l = s->lights;
    bool open = s->view == kFlange || s->view == kClutterView;
    bool torch = r->chance(open ? 0.7f : 0.08f);
    l.count = torch ? 1 + r->below(2) : s->family == kHeldBack ? 2 + r->below(2) : 1 + r->below(8);
    // A lamp must not end up behind the wall that the camera is close to.
    float ring = torch && open ? r->range(0.4f, 2.5f) : s->family == kHeldBack ? 0.28f : r->range(0.03f, 0.27f);
    l.ring = ring;
    float start = r->range(0, 2 * kPi), arc = r->chance(0.65f) ? 2 * kPi : r->range(0.5f, 3);
    for (int i = 0; i < l.count; i++) {
        float a = start + arc * float(i) / float(l.count);
        l.position[i] = vec(ring * cosf(a), ring * sinf(a), r->range(-0.05f, 0.05f));
        l.power[i] = r->range(0.5f, 1.2f) / float(l.count) * 10;
    }
    float cast = s->calm ? 0.4f : 1;
    l.colour = vec(1 + 0.12f * cast * r->bell(), 1, 1 + 0.15f * cast * r->bell());
    l.beam = r->range(0, 3);
    l.bounce = r->range(0.4f, 1.3f);
    l.cavity = r->range(0.2f, 0.8f);
    l.radius = r->range(0.02f, 0.08f);
    float level = open ? r->logRange(0.002f, 0.1f) : r->chance(0.6f) ? 0 : r->logRange(0.0005f, 0.02f);
    l.ambient = r->tinted(level, 0.3f);
    l.sky = open ? r->tinted(r->logRange(0.005f, 0.5f), 0.3f) : r->tinted(r->logRange(0.0005f, 0.03f), 0.2f);
}
