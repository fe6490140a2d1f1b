// Draws a valve out of its engine, in a hand or on a bench, and the camera before it.
#pragma once
#include "camera.h"
#include "sample_clutter.h"
#include "sample_lamps.h"

HD void drawUprightSolid(Solid *o, int shape, Vec centre, Vec axis, Vec size) {
    o->shape = shape;
    o->centre = centre;
    o->az = axis;
    frameAround(axis, &o->ax, &o->ay);
    o->size = size;
    o->pattern = 0;
}

// Fingers, bare or in a glove, across the upper stem.
HD void drawFingers(Scene *s, Random *r) {
    const Vec skins[5] = {{0.5f, 0.28f, 0.2f}, {0.25f, 0.13f, 0.08f}, {0.02f, 0.02f, 0.022f}, {0.04f, 0.12f, 0.4f}, {0.45f, 0.45f, 0.42f}};
    Vec skin = skins[r->below(5)] * r->range(0.7f, 1.2f);
    float z = s->valves[0].guideFrom + r->range(0.5f, 5), turn = r->range(0, 2 * kPi);
    for (int i = 0; i < 3; i++) {
        float a = turn + 0.3f * r->bell() + (i == 2 ? kPi : 0), thick = r->range(1.0f, 1.4f), tilt = r->range(-0.3f, 0.5f);
        Vec along = normalize(vec(-sinf(a), cosf(a), tilt)), out = vec(cosf(a), sinf(a), 0);
        Vec middle = out * (0.45f + thick) + along * (i == 2 ? 9.5f : 8.5f) + vec(0, 0, z + 2.3f * float(i % 2));
        Solid &o = s->solids[s->solidCount++];
        drawUprightSolid(&o, kCylinder, middle, along, vec(thick, thick, 10));
        o.surface = drawSurface(0.3f, 0, r);
        o.surface.colourA = skin, o.surface.colourB = skin * r->range(0.75f, 1.1f);
        o.surface.grime = grey(0.03f), o.surface.grimeShare = r->chance(0.5f) ? 0 : r->range(0.05f, 0.4f), o.surface.wetShare = 0;
    }
}

// The valve stands on its head or lies on rim and stem; other things lie about.
HD void drawBench(Scene *s, Random *r) {
    const Valve &v = s->valves[0];
    bool stands = r->chance(0.35f);
    Vec rim = vec(v.headRadius, 0, -0.2f), tip = vec(kStemRadius, 0, v.stemTop), along = normalize(tip - rim);
    Vec up = stands ? vec(0, 0, 1) : vec(-along.z, 0, along.x), a, b;
    drawUprightSolid(&s->solids[0], kPlane, stands ? vec(0, 0, -0.4f) : rim, up, grey(1));
    s->solids[0].surface = drawSurface(r->logRange(0.02f, 0.7f), r->range(0, 0.5f), r);
    if (r->chance(0.6f)) s->solids[0].surface.colourB = s->solids[0].surface.colourA * r->range(0.75f, 1.2f);
    s->solids[0].pattern = r->chance(0.8f) ? 0 : r->logRange(0.1f, 2);
    s->solidCount = 1;
    frameAround(up, &a, &b);
    for (int n = r->chance(0.5f) ? 0 : 1 + r->below(3); n > 0; n--) {
        float turn = r->range(0, 2 * kPi), away = r->range(5, 14), size = r->logRange(0.4f, 2.5f);
        Vec place = s->solids[0].centre + a * (away * cosf(turn)) + b * (away * sinf(turn)) + up * (0.5f * size);
        Solid &o = s->solids[s->solidCount++];
        Vec axis = r->chance(0.5f) ? up : normalize(a + b * r->range(-1, 1));
        drawUprightSolid(&o, r->below(4), place, axis, vec(size, size * r->range(0.3f, 2), size));
        o.surface = drawSurface(r->logRange(0.02f, 0.7f), r->range(0, 0.7f), r);
        if (r->chance(0.4f)) o.surface.specular = r->range(0.2f, 0.6f), o.surface.rough = r->range(0.05f, 0.5f);
    }
}

HD void drawHand(Scene *s, Random *r) {
    Valve &v = s->valves[0];
    s->valveCount = 1;
    v.base = grey(0);
    v.faceFrom = 0;
    v.guideFrom = v.seatFace + v.tulipHeight * r->range(0.8f, 1.1f) + r->range(0.5f, 4.5f);
    v.stemTop = v.guideFrom + r->range(6, 12);
    for (int i = 0; i < 2; i++) {
        s->seats[i].centre = grey(0);
        s->seats[i].throatRadius = v.headRadius;
        s->guides[i].boss = false;
    }
    s->port.soot.share = 0;
    if (r->chance(0.4f)) drawBench(s, r);
    else if (r->chance(0.4f)) drawFingers(s, r);
}

// From the side to nearly from above, never from below the face.
HD Vec beforeHand(Random *r) {
    float up = r->range(-0.08f, 1.15f), turn = r->range(0, 2 * kPi);
    return vec(cosf(up) * cosf(turn), cosf(up) * sinf(turn), sinf(up)) * r->logRange(8, 30) + vec(0, 0, 1.5f);
}

HD void lookAtHand(Scene *s, Random *r) {
    Camera &c = s->camera;
    const Valve &v = s->valves[0];
    Vec middle = vec(0, 0, r->chance(0.85f) ? r->range(0, v.tulipHeight) : r->range(0, v.guideFrom));
    float away = length(c.eye - middle);
    c.tanHalf = clampf(v.headRadius / away / r->logRange(0.22f, 0.95f), 0.06f, 0.9f);
    Vec to = normalize(middle - c.eye), a, b;
    frameAround(to, &a, &b);
    // Held by its stem a valve hangs, or stands, more often than it lies across the frame.
    float straight = atan2f(-a.z, b.z) + (r->chance(0.7f) ? kPi : 0);
    float roll = r->chance(0.5f) ? straight + 0.35f * r->bell() : r->range(0, 2 * kPi);
    aim(&c, middle, clampf(0.22f * r->bell(), -0.8f, 0.8f), clampf(0.18f * r->bell(), -0.65f, 0.65f), roll);
    settleLamps(s, away, 99);
}
