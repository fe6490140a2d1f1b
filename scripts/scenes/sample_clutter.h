// Draws scenes without an engine, and what an empty seat shows.
#pragma once
#include "clutter.h"
#include "sample_port.h"

HD void standOnFloor(Solid *o, Random *r) {
    o->ax = vec(1, 0, 0), o->ay = vec(0, 1, 0), o->az = vec(0, 0, 1);
    float turn = r->range(0, 2 * kPi);
    if (r->chance(0.6f)) {
        o->ax = vec(cosf(turn), sinf(turn), 0), o->ay = vec(-sinf(turn), cosf(turn), 0);
    } else {
        o->az = r->direction();
        frameAround(o->az, &o->ax, &o->ay);
    }
}

HD void drawClutter(Scene *s, Random *r) {
    s->solidCount = 1 + r->below(10);
    for (int i = 0; i < s->solidCount; i++) {
        Solid &o = s->solids[i];
        o.shape = i == 0 ? kPlane : r->below(6);
        if (o.shape == kPlane && i > 0) o.shape = kLid;
        standOnFloor(&o, r);
        if (i == 0) o.ax = vec(1, 0, 0), o.ay = vec(0, 1, 0), o.az = vec(0, 0, 1);
        o.size = vec(r->logRange(0.3f, 3), r->logRange(0.3f, 3), r->logRange(0.2f, 3));
        if (o.shape == kRing) o.size.y = r->range(0.2f, 1.2f);
        o.centre = i == 0 ? grey(0) : vec(r->range(-5, 5), r->range(-5, 5), r->range(0, 1.5f));
        o.surface = drawSurface(r->logRange(0.02f, 0.7f), r->range(0, 0.7f), r);
        if (r->chance(0.4f)) o.surface.specular = r->range(0.2f, 0.6f), o.surface.rough = r->range(0.05f, 0.5f);
        o.pattern = r->chance(0.7f) ? 0 : r->logRange(0.3f, 4);
    }
}

// What an empty seat shows: the piston's crown somewhere below it, flat or with a dome, a lid or a step on it.
HD void drawCrown(Scene *s, Random *r) {
    s->solidCount = 1 + r->below(3);
    Vec middle = s->valves[0].base + vec(0, 0, -r->logRange(0.7f, 6));
    Vec up = normalize(vec(0.4f * r->bell(), 0.4f * r->bell(), 1)), a, b;
    frameAround(up, &a, &b);
    for (int i = 0; i < s->solidCount; i++) {
        Solid &o = s->solids[i];
        o.shape = i == 0 ? kPlane : r->chance(0.4f) ? kBall : r->below(2) ? kCylinder : kLid;
        o.ax = a, o.ay = b, o.az = up;
        float radius = s->valves[0].headRadius * r->range(0.4f, 1.6f);
        o.size = vec(radius, radius, 0.1f);
        o.centre = middle;
        if (i > 0) o.centre = middle + a * r->range(-2, 2) + b * r->range(-2, 2);
        if (o.shape == kBall) o.centre = o.centre - up * (0.93f * radius);
        o.surface = drawSurface(r->logRange(0.015f, 0.4f), 0.1f, r);
        if (r->chance(0.5f)) o.surface.specular = r->range(0.2f, 0.6f), o.surface.rough = r->range(0.1f, 0.5f);
        o.pattern = 0;
    }
}
