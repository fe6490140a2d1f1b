// Draws the lamps: around the lens, beside it as a phone's flash, or held aside.
#pragma once
#include "recipe.h"

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

// Lamps in front of an open port or over a bench. Powers, and places along the view, are for an object one unit away, until
// the camera has its place (settleLamps).
HD void drawOuterLamps(Scene *s, Random *r) {
    Lights &l = s->lights;
    float kind = r->unit(), a = r->range(0, 2 * kPi), share = s->view == kInHand ? 0.5f : 0.65f;
    l.ring = 0.2f;
    l.radius = r->range(0.08f, 0.35f);
    if (kind < share) {  // the flash of a phone
        float off = r->range(1.5f, 4);
        l.count = 1 + r->below(2);
        for (int i = 0; i < l.count; i++) l.position[i] = vec(off * cosf(a) + 0.4f * float(i), off * sinf(a), 0);
    } else if (kind < share + 0.1f) {  // a ring of lamps around the lens
        l.count = s->family == kHeldBack ? 3 : 6;
        for (int i = 0; i < l.count; i++) l.position[i] = vec(0.4f * cosf(1.05f * float(i)), 0.4f * sinf(1.05f * float(i)), 0);
    } else {  // a torch or a lamp of the workshop; set aside by a share of the distance
        l.count = 1;
        l.ring = -1;
        float off = s->view == kInHand ? r->range(0.2f, 1.5f) : r->range(0.1f, 0.4f);
        l.position[0] = vec(off * cosf(a), off * sinf(a), r->range(-0.2f, 0.5f));
        l.radius = r->range(0.2f, 0.8f);
    }
    for (int i = 0; i < l.count; i++) l.power[i] = r->range(0.8f, 1.2f) / float(l.count);
    l.beam = r->range(0, 1.5f);
    float warm = r->bell();
    l.colour = l.colour * vec(1 + 0.1f * warm, 1, 1 - 0.12f * warm);
    l.ambient = r->tinted(r->logRange(0.002f, s->view == kInHand ? 0.3f : 0.15f), 0.3f);
    l.sky = r->tinted(r->logRange(0.02f, s->view == kInHand ? 0.6f : 0.3f), 0.25f);
}

// `aside`: no lamp lies farther beside the lens.
HD void settleLamps(Scene *s, float distance, float aside) {
    Lights &l = s->lights;
    for (int i = 0; i < l.count; i++) {
        Vec &at = l.position[i];
        l.power[i] *= distance * distance;
        if (l.ring < 0) at = at * distance;
        float shrink = fminf(1.0f, aside / (sqrtf(at.x * at.x + at.y * at.y) + 1e-6f));
        at.x *= shrink, at.y *= shrink;
    }
    l.ring = 0.2f;
}
