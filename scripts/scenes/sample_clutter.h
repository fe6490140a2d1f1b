// Draws a scene without an engine.
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
