// Places the camera and the lamps.
#pragma once
#include "sample_hand.h"
#include "sample_mouth_view.h"
#include "sample_tool.h"

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
    if (s.view == kMouth) return beforeMouth(s, r);
    if (s.view == kInHand) return beforeHand(r);
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
    if (s.view == kInHand) {
        place.score = seenPoints(s, 0, place.eye) >= 3 ? 100 - k : 0;
        return place;
    }
    if (s.view == kMouth) {
        int wanted = 1 + chance.below(6), seen = seenPoints(s, 0, place.eye);
        if (s.valveCount == 2) seen += seenPoints(s, 1, place.eye);
        place.score = seen >= wanted ? 100 - k : seen;
        return place;
    }
    int wanted = s.family == kDemo ? 5 : s.calm ? 3 + chance.below(3) : 1 + chance.below(5), seen = seenPoints(s, 0, place.eye);
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
    } else if (s->view == kMouth) {
        lookIntoMouth(s, &r);
    } else if (s->view == kInHand) {
        lookAtHand(s, &r);
    } else {
        if (r.chance(s->calm ? 1.0f : 0.7f)) fitLens(s, &r);
        aimAtValve(s, &r);
    }
    holdTool(s, seed);
}
