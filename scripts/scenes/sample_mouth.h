// Draws a port that is seen through its open mouth: runner, throats, dividing plate, lean of the valves.
#pragma once
#include "sample_flange.h"
#include "sample_port.h"

// Heads small enough for two of them at the end of one port, stems long and thick at times.
HD void drawSlimHead(Valve *v, Random *r) {
    v->headRadius = r->range(1.75f, 2.75f);
    v->tulipHeight = r->logRange(1.0f, 5.0f);
    if (r->chance(0.5f)) v->tulipPower = r->range(2.2f, 5.0f);
}

HD void drawSection(Mouth *m, bool two, float headRadius, float apart, Random *r) {
    const int shapes[6] = {kRoundedBox, kRoundedBox, kRoundedBox, kEllipse, kEllipse, kDShape};
    m->shape = shapes[r->below(6)];
    bool round = r->chance(two ? 0.25f : 0.6f);
    float flat = round ? r->range(1, 1.1f) : r->range(1.1f, two ? 2.2f : 1.6f);
    float wide = r->range(2.5f, 3.75f) * (flat > 1.5f ? r->range(1.0f, 1.25f) : 1);
    m->halfWide[1] = wide, m->halfHigh[1] = wide / flat;
    m->halfWide[0] = two ? 0.5f * apart + headRadius * r->range(0.5f, 0.85f) : headRadius * r->range(0.95f, 1.3f);
    m->halfHigh[0] = fmaxf(headRadius * r->range(0.75f, 1.1f), 1.4f);
    m->corner = round || r->chance(0.5f) ? 1 : r->range(0.4f, 1);
    m->flat = r->range(0.15f, 0.5f);
}

HD void drawPlate(Mouth *m, Random *r) {
    m->plate = r->chance(0.4f) ? r->range(0.06f, 0.22f) : 0;
    m->upright = r->chance(0.12f);
    m->plateAt = (m->upright ? m->halfWide[1] : m->halfHigh[1]) * r->range(-0.3f, 0.4f);
    m->plateTo = m->length - (r->chance(0.5f) ? r->range(0.05f, 0.3f) : r->range(0.3f, 2.5f));
    m->plateFrom = fminf(m->length * r->range(0.3f, 0.6f), m->plateTo - 0.5f);
}

// Throat bowls over the seats, each led into its half of the runner.
HD void drawThroats(Scene *s, Random *r) {
    Port &p = s->port;
    const Mouth &m = s->mouth;
    float R = s->valves[0].headRadius, bowl = R * r->range(0.94f, 1.06f), knee = R * r->range(0.35f, 0.8f), top = 0;
    p.tubeCount = 0;
    p.blend = r->range(0.3f, 1.2f);
    for (int i = 0; i < (s->valveCount == 2 ? 2 : 1); i++) {
        Vec seat = vec(s->seats[i].centre.x, s->seats[i].centre.y, -0.3f), bend = vec(seat.x, seat.y, knee);
        float across = s->valveCount == 2 ? (i == 0 ? -1.0f : 1.0f) * 0.5f * m.halfWide[0] : 0;
        if (dot(s->seats[i].centre - m.start, m.wide) * across < 0) across = -across;
        Vec join = fromRunner(m, vec(m.split + 0.6f * R, across, 0));
        float joinRadius = fminf(bowl, fminf(m.halfHigh[0], s->valveCount == 2 ? 0.55f * m.halfWide[0] : 9));
        p.tubes[p.tubeCount++] = tube(seat, bend, bowl, bowl, 1);
        p.tubes[p.tubeCount++] = tube(bend, join, bowl, joinRadius, 1);
        top = fmaxf(top, fmaxf(inRunner(m, bend).x + bowl, inRunner(m, join).x + joinRadius));
    }
    s->mouth.tubesUpTo = top + p.blend;
}

HD void drawLean(Scene *s, Random *r) {
    float apart = r->chance(0.4f) ? 0 : r->range(-0.03f, 0.09f);
    for (int i = 0; i < s->valveCount && s->valveCount == 2; i++) {
        float side = s->seats[i].centre.y > s->seats[1 - i].centre.y ? 1.0f : -1.0f;
        s->leanCos[i] = cosf(apart), s->leanSin[i] = -side * sinf(apart);
    }
}

HD void drawMouth(Scene *s, Random *r) {
    Mouth &m = s->mouth;
    bool two = s->valveCount == 2;
    float R = s->valves[0].headRadius, apart = two ? fabsf(s->valves[1].base.y) : 0;
    for (int i = 0; i < 2; i++) s->seats[i].centre = vec(s->valves[i].base.x, s->valves[i].base.y, 0);
    drawSection(&m, two, R, apart, r);
    float tilt = r->range(0.45f, 1.1f);
    m.along = normalize(vec(sinf(tilt), r->range(-0.08f, 0.08f), cosf(tilt)));
    m.wide = normalize(vec(0, 1, 0) - m.along * m.along.y);
    m.high = cross(m.along, m.wide);
    m.start = vec(0, 0, R * r->range(0.4f, 0.8f)) + (two ? (s->seats[0].centre + s->seats[1].centre) * 0.5f : grey(0));
    m.length = r->logRange(6.5f, 20);
    m.split = two ? r->range(-1.2f, 2.5f) : r->range(-1.2f, 0);
    float room = 1 / (m.length * m.length);
    m.bendHigh = m.halfHigh[1] * r->range(-0.6f, 0.6f) * room;
    m.bendWide = r->chance(0.6f) ? 0 : m.halfWide[1] * r->range(-0.3f, 0.3f) * room;
    drawPlate(&m, r);
    drawThroats(s, r);
    drawFlange(s, r);
    s->port.mouth = fromRunner(m, vec(m.length, 0, 0));
    s->port.mouthNormal = m.along;
    s->port.boltOffset = 0;
    drawLean(s, r);
    if (r->chance(0.7f)) s->litter.up = m.high;
}

// Where stems and guides are in full view, the guide ends at the roof; a wide boss would fill the port.
HD void clearGuide(Guide *g, float roof, Random *r) {
    g->bossTaper = fminf(g->bossTaper, 0.12f);
    g->bossStretch = fminf(g->bossStretch, 1.5f);
    g->recess = 0;
    if (r->chance(0.5f)) return;
    g->boss = r->chance(0.4f);
    g->bossBottom = roof * r->range(0.85f, 1.05f);
    g->bottom = g->bossBottom - r->range(-0.5f, 0.6f);
    if (g->boss || r->chance(0.4f)) return;
    g->recess = g->radius + r->range(0.05f, 0.5f);
    g->bottom = roof + r->range(0, 0.8f);
}
