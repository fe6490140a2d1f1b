// A port from its valves to its open mouth, and the flange around that, as signed distances in the world frame.
#pragma once
#include "noise.h"
#include "scene.h"

enum MouthShape { kRoundedBox, kEllipse, kDShape };

// Coordinates along, across and up in the runner, its bend taken out.
HD Vec inRunner(const Mouth &m, Vec p) {
    Vec q = p - m.start;
    float u = dot(q, m.along), bend = u * (2 * m.length - u);
    return vec(u, dot(q, m.wide) - m.bendWide * bend, dot(q, m.high) - m.bendHigh * bend);
}

HD Vec fromRunner(const Mouth &m, Vec q) {
    float bend = q.x * (2 * m.length - q.x);
    return m.start + m.along * q.x + m.wide * (q.y + m.bendWide * bend) + m.high * (q.z + m.bendHigh * bend);
}

HD float roundedBox(float x, float y, float a, float b, float corner) {
    float dx = fabsf(x) - a + corner, dy = fabsf(y) - b + corner, ox = fmaxf(dx, 0), oy = fmaxf(dy, 0);
    return sqrtf(ox * ox + oy * oy) + fminf(fmaxf(dx, dy), 0.0f) - corner;
}

// Distance from the edge of a section with half sizes a and b, negative within.
HD float sectionDistance(const Mouth &m, float v, float w, float a, float b) {
    if (m.shape == kEllipse) return (sqrtf(v * v / (a * a) + w * w / (b * b)) - 1) * fminf(a, b);
    float d = roundedBox(v, w, a, b, m.corner * fminf(a, b));
    return m.shape == kDShape ? smoothMax(d, -w - (1 - m.flat) * b, 0.5f) : d;
}

HD float runnerDistance(const Mouth &m, Vec q) {
    float t = clampf(q.x / m.length, -0.2f, 1);
    float d = sectionDistance(m, q.y, q.z, lerp(m.halfWide[0], m.halfWide[1], t), lerp(m.halfHigh[0], m.halfHigh[1], t));
    float from = m.length - m.counterDepth;
    if (m.counter > 0 && q.x > from - 1) return fminf(d, fmaxf(d - m.counter, from - q.x));
    return smoothMax(d, m.split - q.x, 1.0f);
}

// Of the dividing plate, rounded at its ends.
HD float plateDistance(const Mouth &m, Vec q) {
    float side = fabsf((m.upright ? q.y : q.z) - m.plateAt);
    float end = fmaxf(fmaxf(m.plateFrom - q.x, q.x - m.plateTo), 0);
    return sqrtf(side * side + end * end) - m.plate;
}

// Height of the flange over its plane. `edge` is the distance from the edge of the mouth.
HD float flangeHeight(const Mouth &m, float v, float w, float edge) {
    float h = m.rim * (1 - smoothstep(m.rimWidth, m.rimWidth + 0.12f, edge));
    if (m.pad > 0) h -= m.pad * (1 - smoothstep(-0.05f, 0.05f, roundedBox(v - m.padAt, w, m.padWide, m.padHigh, 0.8f)));
    if (m.grooveHalf > 0) {
        float off = fabsf(edge - m.grooveAt), in = off / (0.85f * m.grooveHalf);
        h -= m.grooveDepth * (1 - smoothstep(m.grooveHalf - 0.05f, m.grooveHalf + 0.02f, off));
        if (m.seal > 0) h += m.seal * sqrtf(fmaxf(0.0f, 1 - in * in));
    }
    if (m.drop > 0) h -= m.drop * smoothstep(0.0f, 0.25f, roundedBox(v, w, m.dropWide, m.dropHigh, 1.2f));
    return h;
}

// Bores the holes into d, the distance of the flange, and adds dowels and studs.
HD float withBolts(const Mouth &m, float v, float w, float out, float d) {
    for (int i = 0; i < m.boltCount; i++) {
        float x = v - m.boltV[i], y = w - m.boltW[i], r = sqrtf(x * x + y * y) - m.boltRadius[i];
        if (m.boltHeight[i] < 0)
            d = fmaxf(d, -fmaxf(r, m.boltHeight[i] - out));
        else
            d = fminf(d, fmaxf(r, out - m.boltHeight[i]));
    }
    return d;
}

// The flange in front of the port: d is the distance of the walls behind its plane.
HD float withFlange(const Mouth &m, Vec q, float d) {
    float out = q.x - m.length;
    if (out < -2.6f) return d;
    if (out > m.highest + 0.3f) return out - m.highest;
    float edge = sectionDistance(m, q.y, q.z, m.halfWide[1], m.halfHigh[1]);
    float h = flangeHeight(m, q.y, q.z, edge);
    if (m.castRough > 0 && h < -0.05f && edge > 0) {
        float relief = latticeNoise(vec(q.y, q.z, 0) * 2.6f, 77, false) - 1;
        h += m.castRough * relief * smoothstep(0.05f, 0.15f, -h);
    }
    float face = (out - h) * 0.7f;
    return withBolts(m, q.y, q.z, out, smoothMax(d, face, m.edgeRound));
}
