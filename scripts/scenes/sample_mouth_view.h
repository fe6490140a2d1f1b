// Places the camera before an open port, or in it, and chooses what part of the port the frame holds.
#pragma once
#include "sample_lamps.h"
#include "sight.h"

HD Vec beforeMouth(const Scene &s, Random *r) {
    const Mouth &m = s.mouth;
    if (m.inside) {
        Vec q = vec(m.length * r->range(0.35f, 0.95f), 0.6f * m.halfWide[1] * r->range(-1, 1), 0.6f * m.halfHigh[1] * r->range(-1, 1));
        return fromRunner(m, q);
    }
    float away = fmaxf(r->logRange(8, 40), r->range(0.5f, 1.1f) * m.length), slant = fminf(0.4f, 2.2f / m.length);
    return s.port.mouth + m.along * away + m.wide * (away * slant * r->range(-1, 1)) + m.high * (away * slant * r->range(-1, 1));
}

// The roll that lays the port's width across the frame.
HD float levelRoll(const Scene &s, Vec target) {
    Vec to = normalize(target - s.camera.eye), a, b;
    frameAround(to, &a, &b);
    return atan2f(dot(s.mouth.wide, b), dot(s.mouth.wide, a));
}

// The whole mouth, its valves, or one valve, in equal parts: what a phone's crop shows.
HD void lookIntoMouth(Scene *s, Random *r) {
    Camera &c = s->camera;
    const Mouth &m = s->mouth;
    float R = s->valves[0].headRadius, off = 0.13f;
    int count = s->valveCount == 2 ? 2 : 1, zoom = m.inside ? 1 + r->below(2) : r->below(3);
    Vec first = fromValve(*s, 0, vec(0, 0, 0.4f * s->valves[0].tulipHeight));
    Vec second = fromValve(*s, 1, vec(0, 0, 0.4f * s->valves[1].tulipHeight));
    Vec target = count == 2 ? (first + second) * 0.5f : first;
    float half = 0.5f * length(first - second) * float(count - 1) + R, fill = r->range(0.5f, 1.05f);
    if (zoom == 0) target = s->port.mouth, half = m.halfWide[1], fill = r->range(0.4f, 1.0f);
    if (zoom == 2) {
        bool other = count == 2 && seenPoints(*s, 1, c.eye) > seenPoints(*s, 0, c.eye);
        if (r->chance(0.15f)) other = !other && count == 2;
        target = other ? second : first, half = R, fill = r->logRange(0.35f, 1.1f), off = 0.22f;
    }
    float away = length(target - c.eye);
    c.tanHalf = clampf(half / away / fill, 0.03f, 1.1f);
    float roll = levelRoll(*s, target) + (r->chance(0.75f) ? 0 : kPi) + 0.2f * r->bell();
    if (r->chance(0.25f)) roll = r->range(0, 2 * kPi);
    aim(&c, target, clampf(off * r->bell(), -0.9f, 0.9f), clampf(0.75f * off * r->bell(), -0.7f, 0.7f), roll);
    if (m.inside) return;
    // A lamp too far beside the lens lights the walls behind the flange and nothing else, which few keep as a photo.
    away = length(s->port.mouth - c.eye);
    settleLamps(s, away, r->chance(0.15f) ? 99 : r->range(0.3f, 1) * m.halfHigh[1] * away / m.length);
}
